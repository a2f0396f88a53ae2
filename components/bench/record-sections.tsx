'use client';

import { type ReactNode, useMemo } from 'react';
import { RecordHistory } from '@/components/audit/record-history';
import { whenSeen } from '@/components/ui/later';
import { RecordHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { listSections } from '@/lib/bench/fields';
import type { BenchRecord } from '@/lib/bench/wire';
import { paths } from '@/lib/platform/paths';
import { sayDays } from '@/lib/platform/say-dates';
import { say, sayWord } from '@/lib/platform/words/say';
import { BenchField } from './bench-field';
import type { Shown } from './bench-record';
import classes from './bench-record.module.css';
import { Findings } from './findings';
import { STATE_TONES, STATE_WORDS } from './record-words';
import { RemarksSection } from './remarks-section';
import { StepList } from './steps';
import { WorkSection } from './work-section';

const BoneBookPanel = whenSeen(
  () => import('@/components/skeletons/bone-book-panel').then((module) => module.BoneBookPanel),
  8,
);
const TissuePanel = whenSeen(() =>
  import('@/components/tissues/tissue-panel').then((module) => module.TissuePanel),
);
const Comments = whenSeen(() => import('@/components/notices/comments').then((module) => module.Comments), 3);
const ChecksSection = whenSeen(() => import('./checks-section').then((module) => module.ChecksSection), 2);
const SendSection = whenSeen(() => import('./send-section').then((module) => module.SendSection));
const ProductsSection = whenSeen(() => import('./products-section').then((module) => module.ProductsSection));

/** The whole record on one scrolling page, in the order of the work. */
export function RecordSections({
  record,
  shown: { live, plain, warnings, first, derived },
  unsent,
  onMark,
  onExplain,
}: {
  record: BenchRecord;
  shown: Shown;
  unsent: number;
  onMark: (step: string, done: boolean) => void;
  onExplain: (key: string, reason: string | null) => void;
}) {
  const { abilities, arrival, style } = record;
  const open = warnings.filter(({ explained }) => explained === null).length;
  // Read once, not at each key: the labels' language lasts as long as the page.
  const sections = useMemo(listSections, []);
  const links = [
    ...(record.remarks.length > 0
      ? [{ id: 'remarks-of-review', label: say('Remarks of the reviewer') }]
      : []),
    { id: 'work', label: say('Work and steps') },
    ...sections.map(({ id, label }) => ({ id, label })),
    { id: 'checks', label: open === 0 ? say('Checks') : say('Checks ({open})', { open }) },
    { id: 'vials', label: say('Tissue vials') },
    { id: 'bones', label: say('Bone book') },
    { id: 'products', label: say('Products') },
    { id: 'review', label: say('Review') },
    { id: 'comments', label: say('Comments') },
    { id: 'history', label: say('History') },
  ];
  return (
    <>
      <RecordHead
        number={record.catalogueNumber ?? record.number}
        title={<TaxonName scientific={record.scientificName} common={record.commonName} stacked />}
        state={<StateBadge tone={STATE_TONES[record.state]}>{STATE_WORDS[record.state]}</StateBadge>}
        intro={say('Preparation {prepNumber} by {name}{x}. Found {days}, {word}.', {
          prepNumber: record.prepNumber,
          name: record.preparator.name,
          x: record.scribe ? say(', written by {name}', { name: record.scribe.name }) : '',
          days: sayDays(arrival.foundFrom, arrival.foundTo),
          word: sayWord(arrival.cause).toLowerCase(),
        })}
        sections={links}
        back={{ label: say('Bench'), href: paths.bench }}
      />
      {record.remarks.length > 0 && (
        <Part id="remarks-of-review" title={say('Remarks of the reviewer')}>
          <RemarksSection record={record} />
        </Part>
      )}
      <Part id="work" title={say('Work and steps')}>
        <WorkSection record={record} />
        <StepList style={style} steps={live.steps} mayWrite={abilities.write} onMark={onMark} />
      </Part>
      {sections.map((section) => (
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
            <Findings section={section.id} values={plain} derived={derived} />
          </div>
          {section.id === 'death' && (
            <p className={classes.quiet}>
              {say('Held against the finder’s report: {word}; {circumstances}.', {
                word: sayWord(arrival.cause).toLowerCase(),
                circumstances: arrival.circumstances || say('no circumstances noted'),
              })}
            </p>
          )}
        </Part>
      ))}
      <Part id="checks" title={say('Checks')}>
        <ChecksSection
          warnings={warnings}
          values={plain}
          against={record.comparison}
          mayWrite={abilities.write}
          onExplain={onExplain}
        />
      </Part>
      <Part id="vials" title={say('Tissue vials')}>
        <TissuePanel birdId={record.birdId} />
      </Part>
      <Part id="bones" title={say('Bone book')}>
        <BoneBookPanel birdId={record.birdId} readOnly={!abilities.write} />
      </Part>
      <Part id="products" title={say('Products')}>
        <ProductsSection record={record} />
      </Part>
      <Part id="review" title={say('Review')}>
        <SendSection record={record} values={plain} unsent={unsent} />
      </Part>
      <Part id="comments" title={say('Comments')}>
        <Comments subject={{ subjectType: 'bench-record', subjectId: record.id }} />
      </Part>
      <Part id="history" title={say('History')}>
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
