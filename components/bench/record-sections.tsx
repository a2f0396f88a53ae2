'use client';

import type { ReactNode } from 'react';
import { RecordHistory } from '@/components/audit/record-history';
import { Comments } from '@/components/notices/comments-section';
import { BoneBookPanel } from '@/components/skeletons/bone-book-panel';
import { TissuePanel } from '@/components/tissues/tissue-panel';
import { RecordHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { sayWord } from '@/components/ui/words';
import { listSections } from '@/lib/bench/fields';
import { listLacks } from '@/lib/bench/rules';
import type { BenchRecord } from '@/lib/bench/wire';
import { paths } from '@/lib/platform/paths';
import { sayDays } from '@/lib/platform/say-dates';
import { BenchField } from './bench-field';
import type { Derived } from './bench-record';
import classes from './bench-record.module.css';
import { ChecksSection } from './checks-section';
import { Findings } from './findings';
import { ProductsSection } from './products-section';
import { STATE_TONES, STATE_WORDS } from './record-words';
import { RemarksSection, SendSection } from './review-section';
import { StepList } from './steps';
import { WorkSection } from './work-section';

const SECTIONS = listSections();

/** The whole record on one scrolling page, in the order of the work. */
export function RecordSections({
  record,
  derived: { live, plain, warnings, first, peers },
  unsent,
  onMark,
  onExplain,
}: {
  record: BenchRecord;
  derived: Derived;
  unsent: number;
  onMark: (step: string, done: boolean) => void;
  onExplain: (key: string, reason: string | null) => void;
}) {
  const { abilities, arrival, style } = record;
  const open = warnings.filter(({ explained }) => explained === null).length;
  const links = [
    ...(record.remarks.length > 0 ? [{ id: 'remarks-of-review', label: 'Remarks of the reviewer' }] : []),
    { id: 'work', label: 'Work and steps' },
    ...SECTIONS.map(({ id, label }) => ({ id, label })),
    { id: 'checks', label: open === 0 ? 'Checks' : `Checks (${open})` },
    { id: 'vials', label: 'Tissue vials' },
    { id: 'bones', label: 'Bone book' },
    { id: 'products', label: 'Products' },
    { id: 'review', label: 'Review' },
    { id: 'comments', label: 'Comments' },
    { id: 'history', label: 'History' },
  ];
  return (
    <>
      <RecordHead
        number={record.catalogueNumber ?? record.number}
        title={<TaxonName scientific={record.scientificName} common={record.commonName} stacked />}
        state={<StateBadge tone={STATE_TONES[record.state]}>{STATE_WORDS[record.state]}</StateBadge>}
        intro={`Preparation ${record.prepNumber} by ${record.preparator.name}${record.scribe ? `, written by ${record.scribe.name}` : ''}. Found ${sayDays(arrival.foundFrom, arrival.foundTo)}, ${sayWord(arrival.cause).toLowerCase()}.`}
        sections={links}
        back={{ label: 'Bench', href: paths.bench }}
      />
      {record.remarks.length > 0 && (
        <Part id="remarks-of-review" title="Remarks of the reviewer">
          <RemarksSection record={record} />
        </Part>
      )}
      <Part id="work" title="Work and steps">
        <WorkSection record={record} />
        <StepList style={style} steps={live.steps} mayWrite={abilities.write} onMark={onMark} />
      </Part>
      {SECTIONS.map((section) => (
        <Part key={section.id} id={section.id} title={section.label}>
          <div className={classes.fields}>
            {section.fields.map((field) => (
              <BenchField
                key={field}
                field={field}
                held={live.values[field]}
                earlier={record.earlier[field] ?? 0}
                warning={first[field] ?? null}
              />
            ))}
            <Findings section={section.id} values={plain} against={record.comparison} />
          </div>
          {section.id === 'death' && (
            <p className={classes.quiet}>
              Held against the finder’s report: {sayWord(arrival.cause).toLowerCase()};{' '}
              {arrival.circumstances || 'no circumstances noted'}.
            </p>
          )}
        </Part>
      ))}
      <Part id="checks" title="Checks">
        <ChecksSection
          warnings={warnings}
          values={plain}
          peers={peers}
          mayWrite={abilities.write}
          onExplain={onExplain}
        />
      </Part>
      <Part id="vials" title="Tissue vials">
        <TissuePanel birdId={record.birdId} />
      </Part>
      <Part id="bones" title="Bone book">
        <BoneBookPanel birdId={record.birdId} readOnly={!abilities.write} />
      </Part>
      <Part id="products" title="Products">
        <ProductsSection record={record} />
      </Part>
      <Part id="review" title="Review">
        <SendSection record={record} lacks={listLacks(plain, style.id)} unsent={unsent} />
      </Part>
      <Part id="comments" title="Comments">
        <Comments subject={{ subjectType: 'bench-record', subjectId: record.id }} />
      </Part>
      <Part id="history" title="History">
        <RecordHistory subject={{ birdId: record.birdId }} />
      </Part>
    </>
  );
}

function Part({ id, title, children }: { id: string; title: string; children: ReactNode }) {
  return (
    <section id={id} className={classes.part} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>{title}</h2>
      {children}
    </section>
  );
}
