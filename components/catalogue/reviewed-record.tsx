'use client';

import { Button } from '@mantine/core';
import { useEffect, useRef } from 'react';
import { FilesSection } from '@/components/attachments/files-section';
import { RecordHistory } from '@/components/audit/record-history';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { NumberWithUnit } from '@/components/ui/number-with-unit';
import { RecordHead } from '@/components/ui/page-head';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import type { ReviewRecord } from '@/lib/catalogue/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { BonePicture } from './bone-section';
import { Materials } from './materials';
import { OriginFacts } from './origin-facts';
import classes from './review.module.css';
import { ReviewPoints } from './review-points';
import { BenchValues } from './review-values';
import { fieldLabel, showValue } from './show-value';

const SECTIONS = phrases([
  { id: 'points', label: 'What to look at' },
  { id: 'origin', label: 'Where it came from' },
  { id: 'measurements', label: 'Measurements' },
  { id: 'sexing', label: 'Sex' },
  { id: 'bones', label: 'Bones' },
  { id: 'materials', label: 'Materials' },
  { id: 'files', label: 'Photos and documents' },
  { id: 'similar', label: 'Similar specimens' },
  { id: 'history', label: 'History' },
]);

/** What became of the record, told where the eyes are; and the way to the next. */
export function Decided({
  catalogueNumber,
  birdId,
  nextId,
}: {
  catalogueNumber: string | null;
  birdId: string;
  nextId: string | null;
}) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    box.current?.scrollIntoView({ block: 'start' });
    box.current?.querySelector('a')?.focus();
  }, []);
  return (
    <div ref={box} className={classes.approved} role="status">
      {catalogueNumber === null ? (
        <p className={classes.big}>{say('Returned with remarks')}</p>
      ) : (
        <p className={classes.big}>{sayWith('Approved as {b}', { b: <b>{catalogueNumber}</b> })}</p>
      )}
      <p>
        {catalogueNumber === null
          ? say('The preparator sees your remarks beside the fields.')
          : say('Its materials and labels bear the number from now on.')}
      </p>
      <Button component={Link} href={nextId === null ? paths.review : paths.reviewRecord(nextId)}>
        {nextId === null ? say('Back to the review desk') : say('Next record')}
      </Button>{' '}
      {catalogueNumber === null ? null : (
        <Button component={Link} variant="default" href={paths.catalogueEntry(birdId)}>
          {say('See {catalogueNumber}', { catalogueNumber })}
        </Button>
      )}
    </div>
  );
}

/** Everything of the record that a reviewer looks at, in the order of the work. */
export function ReviewedRecord({
  record,
  onRemark,
}: {
  record: ReviewRecord;
  onRemark?: (field: string) => void;
}) {
  const changed = new Set(record.lastReturn?.changes.map(({ field }) => field));
  return (
    <>
      <RecordHead
        back={{ label: say('Review desk'), href: paths.review }}
        number={record.catalogueNumber ?? record.number}
        title={<TaxonName scientific={record.scientificName} common={record.commonName} />}
        state={<StateBadge tone="lead">{sayWord(record.state)}</StateBadge>}
        intro={sayWith('{word}, prepared by {name} as {prepNumber}{x}{x2}', {
          word: sayWord(record.styleId),
          name: record.preparator.name,
          prepNumber: record.prepNumber,
          x: record.scribe === null ? '' : say(', written by {name}', { name: record.scribe.name }),
          x2:
            record.sentAt === null
              ? null
              : sayWith(', sent to review on {moment}', { moment: <Moment at={record.sentAt} /> }),
        })}
        sections={SECTIONS}
        acts={
          <Button component={Link} variant="default" href={paths.bird(record.birdId)}>
            {say('The bird’s life')}
          </Button>
        }
      />
      <Section id="points" title={say('What to look at')}>
        <ReviewPoints record={record} />
      </Section>
      {record.lastReturn === null ? null : <SinceReturn last={record.lastReturn} />}
      <Section id="origin" title={say('Where it came from')}>
        <OriginFacts origin={record.origin} linked />
      </Section>
      <BenchValues fields={record.fields} warnings={record.warnings} changed={changed} onRemark={onRemark} />
      <Section
        id="bones"
        title={say('Bone book')}
        note={
          record.bones.explanation === null
            ? undefined
            : say('Explained: {explanation}', { explanation: record.bones.explanation })
        }
      >
        <BonePicture rows={record.bones.rows} />
      </Section>
      <Section id="materials" title={say('Materials')}>
        <Materials materials={record.materials} linked />
      </Section>
      <FilesSection subjectType="bird" subjectId={record.birdId} />
      <Section id="similar" title={say('Similar specimens')} note={say('Approved birds of the same taxon.')}>
        <Similar rows={record.similar} />
      </Section>
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ birdId: record.birdId }} />
      </Section>
    </>
  );
}

function SinceReturn({ last }: { last: NonNullable<ReviewRecord['lastReturn']> }) {
  const nothing = last.changes.length === 0 && last.boneChanges.length === 0;
  return (
    <Section
      id="since"
      title={say('Since the last return')}
      note={
        <>
          {last.by}, <Moment at={last.at} />
        </>
      }
    >
      <Facts>
        {last.remarks.map(({ field, remark, answer }) => (
          <Fact
            key={`${field}${remark}`}
            term={fieldLabel(field)}
            note={answer === null ? say('not answered') : say('Answered: {answer}', { answer })}
          >
            {remark}
          </Fact>
        ))}
      </Facts>
      <ul className={classes.diff}>
        {nothing ? <li>{say('Nothing in the record has changed since.')}</li> : null}
        {last.changes.map(({ field, from, to }) => (
          <li key={field}>
            {fieldLabel(field)}: <del>{showValue(field, from)}</del> → <ins>{showValue(field, to)}</ins>
          </li>
        ))}
        {last.boneChanges.map(({ bone, from, to }) => (
          <li key={bone}>
            {bone
              .replace(/\/whole$/, '')
              .replaceAll('/', ', ')
              .replaceAll('-', ' ')}
            : <del>{from}</del> → <ins>{to}</ins>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function Similar({ rows }: { rows: ReviewRecord['similar'] }) {
  return (
    <DataList
      label={say('Similar specimens')}
      columns={[
        { id: 'number', head: say('Number'), cell: (row) => row.number },
        { id: 'sex', head: say('Sex'), cell: (row) => sayWord(row.sex) },
        { id: 'age', head: say('Age'), cell: (row) => (row.age === null ? '' : sayWord(row.age)) },
        { id: 'found', head: say('Found'), cell: (row) => sayDay(row.foundOn) },
        {
          id: 'mass',
          head: say('Mass'),
          unit: 'g',
          numeric: true,
          cell: (row) => <NumberWithUnit value={row.massG} />,
        },
        {
          id: 'wing',
          head: say('Wing'),
          unit: 'mm',
          numeric: true,
          cell: (row) => <NumberWithUnit value={row.wingMm} />,
        },
      ]}
      rows={rows}
      rowId={(row) => row.birdId}
      rowHref={(row) => paths.catalogueEntry(row.birdId)}
      empty={<EmptyState title={say('The first of its kind here')} />}
    />
  );
}
