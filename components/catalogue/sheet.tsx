'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { FilesSection } from '@/components/attachments/files-section';
import { RecordHistory } from '@/components/audit/record-history';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { whenOpened, whenSeen } from '@/components/ui/later';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { RecordHead } from '@/components/ui/page-head';
import { TaxonName } from '@/components/ui/taxon-name';
import type { HistoryEvent } from '@/lib/audit/schema';
import type { CatalogueRecord } from '@/lib/catalogue/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { BonePicture } from './bone-section';
import { Determinations } from './determinations';
import { Materials } from './materials';
import { OriginFacts } from './origin-facts';
import classes from './review.module.css';
import { BenchValues } from './review-values';
import { sheetOptions } from './sheet-queries';
import { fieldLabel, showValue } from './show-value';
import { StageBadge } from './stage-badge';

const AmendForm = whenOpened(() => import('./amend-form').then((module) => module.AmendForm), 6);
const DeaccessionForm = whenSeen(
  () => import('./deaccession-form').then((module) => module.DeaccessionForm),
  2,
);
const EarlierValues = whenSeen(() => import('./put-back').then((module) => module.EarlierValues), 2);
const PutBack = whenSeen(() => import('./put-back').then((module) => module.PutBack), 1);

const SECTIONS = phrases([
  { id: 'specimen', label: 'Specimen' },
  { id: 'determinations', label: 'Identification' },
  { id: 'origin', label: 'Where it came from' },
  { id: 'measurements', label: 'Measurements' },
  { id: 'bones', label: 'Bones' },
  { id: 'materials', label: 'Materials' },
  { id: 'files', label: 'Photos and documents' },
]);

/** A catalogued bird's specimen sheet; for staff also of a bird that is not approved yet. `linked`: pages of staff. */
export function Sheet({ birdId, linked }: { birdId: string; linked: boolean }) {
  const query = useQuery(sheetOptions(birdId));
  if (query.error)
    return (
      <ErrorState
        what={say('This bird could not be loaded.')}
        error={query.error}
        onRetry={() => void query.refetch()}
      />
    );
  if (query.data === undefined) return <Loading what={say('Loading the bird')} lines={8} />;
  const record = query.data;
  const { abilities } = record;
  return (
    <>
      <RecordHead
        back={{ label: say('Catalogue'), href: paths.catalogue }}
        number={record.catalogueNumber ?? record.number}
        title={
          <TaxonName
            scientific={[record.qualifier, record.scientificName].filter((part) => part !== null).join(' ')}
            common={record.commonName}
          />
        }
        state={<StageBadge stage={record.stage} />}
        intro={
          record.catalogueNumber === null
            ? say('Not catalogued yet: the number comes with approval.')
            : say('Salvaged as {number}', { number: record.number })
        }
        sections={[
          ...SECTIONS,
          ...(record.amendments.length > 0 ? [{ id: 'amendments', label: say('Amendments') }] : []),
          ...(abilities.history ? [{ id: 'history', label: say('History') }] : []),
        ]}
        acts={<Acts record={record} linked={linked} />}
      />
      <Specimen record={record} />
      <Determinations record={record} />
      <Section id="origin" title={say('Where it came from')}>
        <OriginFacts origin={record.origin} linked={linked} />
      </Section>
      <BenchValues fields={record.fields} />
      {abilities.amend ? <Amend record={record} /> : null}
      <Section id="bones" title={say('Bone book')}>
        <BonePicture rows={record.bones} />
      </Section>
      <Section id="materials" title={say('Materials')}>
        <Materials materials={record.materials} linked={linked} />
        {abilities.deaccession ? <DeaccessionForm record={record} /> : null}
      </Section>
      <FilesSection subjectType="bird" subjectId={birdId} />
      {record.amendments.length > 0 ? <Amendments record={record} /> : null}
      {abilities.history ? (
        <Section id="history" title={say('History')}>
          <RecordHistory subject={{ birdId }} actOf={(event) => putBackOf(event, record)} />
        </Section>
      ) : null}
    </>
  );
}

/** In the history: an amendment whose earlier value may be put back. */
function putBackOf({ kind, payload }: HistoryEvent, record: CatalogueRecord) {
  if (kind !== 'catalogue.amended') return null;
  const earlier = record.earlier.find(
    ({ field, value }) =>
      field === payload.field && JSON.stringify(value) === JSON.stringify(payload.from ?? null),
  );
  return earlier === undefined ? null : (
    <PutBack record={record} field={earlier.field} value={earlier.value} />
  );
}

function Acts({ record, linked }: { record: CatalogueRecord; linked: boolean }) {
  return (
    <>
      {linked ? (
        <Button component={Link} variant="default" href={paths.bird(record.birdId)}>
          {say('The bird’s life')}
        </Button>
      ) : null}
      {record.benchId !== null && record.benchState !== 'approved' ? (
        <Button component={Link} variant="default" href={paths.benchRecord(record.benchId)}>
          {say('Bench record')}
        </Button>
      ) : null}
      <Button variant="default" onClick={() => window.print()}>
        {say('Print')}
      </Button>
    </>
  );
}

function Specimen({ record }: { record: CatalogueRecord }) {
  return (
    <Section id="specimen" title={say('Specimen')}>
      <Facts>
        <Fact term={say('Sex')}>{sayWord(record.sex)}</Fact>
        {record.age === null ? null : <Fact term={say('Age')}>{sayWord(record.age)}</Fact>}
        {record.familyName === null ? null : <Fact term={say('Family')}>{record.familyName}</Fact>}
        {record.styleId === null ? null : <Fact term={say('Preparation')}>{sayWord(record.styleId)}</Fact>}
        {record.preparator === null ? null : (
          <Fact term={say('Preparator')} note={record.prepNumber}>
            {record.preparator}
          </Fact>
        )}
        {record.preparedOn === null ? null : <Fact term={say('Prepared')}>{sayDay(record.preparedOn)}</Fact>}
        {record.approvedAt === null ? null : (
          <Fact term={say('Approved')} note={record.approvedBy}>
            <Moment at={record.approvedAt} />
          </Fact>
        )}
        {record.explained.map(({ point, explanation }) => (
          <Fact key={point} term={say('Approved with an explanation')} wide note={point}>
            {explanation}
          </Fact>
        ))}
      </Facts>
    </Section>
  );
}

function Amend({ record }: { record: CatalogueRecord }) {
  const [open, setOpen] = useState(false);
  return (
    <Section
      id="amend"
      title={say('Amend')}
      note={say('The record is locked. A change keeps both values and its reason beside each other.')}
      acts={
        open ? null : (
          <Button variant="default" onClick={() => setOpen(true)}>
            {say('Amend a field')}
          </Button>
        )
      }
    >
      {open ? <AmendForm record={record} onDone={() => setOpen(false)} /> : null}
      {record.earlier.length > 0 ? (
        <details className="f-screen-only">
          <summary>{say('Earlier values')}</summary>
          <EarlierValues record={record} />
        </details>
      ) : null}
    </Section>
  );
}

function Amendments({ record }: { record: CatalogueRecord }) {
  return (
    <Section id="amendments" title={say('Amendments')}>
      <ul className={classes.diff}>
        {record.amendments.map((one) => (
          <li key={one.id}>
            {fieldLabel(one.field)}: <del>{showValue(one.field, one.before)}</del> →{' '}
            <ins>{showValue(one.field, one.after)}</ins>
            <div>
              “{one.reason}” {one.by}, <Moment at={one.at} />
            </div>
          </li>
        ))}
      </ul>
    </Section>
  );
}
