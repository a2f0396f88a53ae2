'use client';

import { useQuery } from '@tanstack/react-query';
import { RecordHistory } from '@/components/audit/record-history';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { NotRecorded } from '@/components/ui/number-with-unit';
import { RecordHead } from '@/components/ui/page-head';
import { Reasons } from '@/components/ui/reasons';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { countOf, phrases, say, sayCode, sayWord } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import type { VialRecord as Vial, VialRow } from '@/lib/tissues/wire';
import { vialOptions } from './queries';
import { VialChange } from './vial-change';
import { COLUMNS } from './vial-list';
import { sayAmount, sayLeft, sayPreservation, sayTissues, VialStateBadge } from './words';

const VialActs = whenSeen(() => import('./vial-acts').then((module) => module.VialActs), 2);
const MaterialMoves = whenSeen(
  () => import('@/components/storage/material-moves').then((module) => module.MaterialMoves),
  4,
);
const PrintLabels = whenSeen(
  () => import('@/components/labels/print-labels').then((module) => module.PrintLabels),
  2,
);

const SECTIONS = phrases([
  { id: 'facts', label: 'What is in it' },
  { id: 'quality', label: 'How good it is' },
  { id: 'uses', label: 'Uses' },
  { id: 'kin', label: 'From the same bird' },
  { id: 'labels', label: 'Labels' },
  { id: 'moves', label: 'Moves' },
  { id: 'history', label: 'History' },
]);

/** One vial: what is in it and left, how good it is and for what, what was taken, where it and its duplicates lie. */
export function VialRecord({ id }: { id: string }) {
  const record = useQuery(vialOptions(id));
  if (record.error) {
    return (
      <ErrorState
        what={say('This vial could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what={say('Loading the vial')} lines={8} />;
  const vial = record.data;
  return (
    <>
      <RecordHead
        number={vial.label}
        title={sayWith('{word} of {taxonname}', {
          word: sayWord(sayTissues(vial.tissues)),
          taxonname: <TaxonName scientific={vial.scientificName} common={vial.commonName} />,
        })}
        state={<VialStateBadge vial={vial} />}
        back={{
          label: say('Bird {birdNumber}', { birdNumber: vial.birdNumber }),
          href: paths.bird(vial.birdId),
        }}
        sections={SECTIONS}
      />
      <WhatIsInIt vial={vial} />
      <Quality vial={vial} />
      <Section id="uses" title={say('Uses')} note={say('Left: {left}', { left: sayLeft(vial) })}>
        <VialActs key={vial.version} vial={vial} />
        <Uses vial={vial} />
      </Section>
      <Section id="kin" title={say('From the same bird')} note={vial.duplicates.message}>
        <DataList<VialRow>
          label={say('Other vials of this bird')}
          columns={COLUMNS}
          rows={[...vial.children, ...vial.siblings]}
          rowId={(row) => row.id}
          rowHref={(row) => paths.vial(row.id)}
          empty={<EmptyState title={say('No other vial of this bird')} />}
        />
      </Section>
      <Section id="labels" title={say('Labels')}>
        <PrintLabels kind="vial-side" name={say('Label of its side')} ids={[vial.id]} />
        <PrintLabels kind="vial-cap" name={say('Label of its cap')} ids={[vial.id]} />
      </Section>
      <Section id="moves" title={say('Moves')}>
        <MaterialMoves id={id} />
      </Section>
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'material', subjectId: id }} />
      </Section>
    </>
  );
}

function WhatIsInIt({ vial }: { vial: Vial }) {
  const time = (at: string | null) => (at === null ? <NotRecorded /> : <Moment at={at} show="both" />);
  return (
    <Section
      id="facts"
      title={say('What is in it')}
      acts={vial.abilities.change ? <VialChange vial={vial} /> : null}
    >
      <Facts>
        <Fact term={say('Tissue')}>{sayWord(sayTissues(vial.tissues))}</Fact>
        <Fact term={say('Kept')}>{sayPreservation(vial.preservation)}</Fact>
        <Fact term={say('Container')}>
          {sayWord(vial.container.kind)}
          {vial.container.volumeMl !== null &&
            say(', {number} ml', { number: sayNumber(vial.container.volumeMl) })}
        </Fact>
        <Fact
          term={say('Amount')}
          note={vial.amount === null ? say('Measure it before taking from it.') : undefined}
        >
          {sayLeft(vial)}
        </Fact>
        <Fact term={say('Code')}>{vial.code}</Fact>
        <Fact term={say('Place')}>
          {vial.unitId === null ? (
            say('no place')
          ) : (
            <Link href={paths.storageUnit(vial.unitId)}>{vial.place}</Link>
          )}
        </Fact>
        {vial.loan !== null && (
          <Fact term={say('Loan')}>
            <Link href={paths.loan(vial.loan.id)}>{vial.loan.number}</Link>
          </Fact>
        )}
        {vial.parent !== null && (
          <Fact term={say('Taken from')}>
            {vial.parent.isVial ? (
              <Link href={paths.vial(vial.parent.id)}>{vial.parent.label}</Link>
            ) : (
              vial.parent.label
            )}
          </Fact>
        )}
        <Fact term={say('Dead by')}>{time(vial.times.diedUntilAt)}</Fact>
        <Fact term={say('Carcass frozen')}>{time(vial.times.frozenAt)}</Fact>
        <Fact term={say('Out of the freezer')}>{time(vial.times.outOfFreezerAt)}</Fact>
        <Fact term={say('Sampled')}>{time(vial.times.sampledAt)}</Fact>
        <Fact term={say('Preserved')}>{time(vial.times.preservedAt)}</Fact>
        <Fact term={say('Filled by')}>{vial.filledBy}</Fact>
        {vial.remarks !== null && (
          <Fact term={say('Remarks')} wide>
            {vial.remarks}
          </Fact>
        )}
      </Facts>
    </Section>
  );
}

const TONES = { good: 'settled', doubtful: 'attention', unfit: 'stop' } as const;

function Quality({ vial }: { vial: Vial }) {
  const { exposed, quality } = vial;
  const hours = (value: number) => `${sayNumber(value, value < 10 ? 1 : 0)} h`;
  return (
    <Section
      id="quality"
      title={say('How good it is')}
      note={say('Class after Wong et al. 2012, 4 best. A guide, not a promise.')}
    >
      <Reasons
        tone={quality.stars === null ? 'neutral' : quality.stars >= 3 ? 'settled' : 'attention'}
        verdict={quality.stars === null ? say('Not classed') : say('Class {stars}', { stars: quality.stars })}
        reasons={[
          {
            id: 'class',
            tone: 'neutral',
            text: quality.reason,
            citation: 'Wong et al. 2012, GigaScience 1:8, Table 1',
          },
          {
            id: 'cold',
            tone: exposed.unknown.length > 0 ? 'attention' : 'neutral',
            text: sayExposed(exposed, hours),
          },
          {
            id: 'thaws',
            tone: vial.thawCount > 1 ? 'attention' : 'neutral',
            text:
              vial.thawCount === 0
                ? say('Never thawed since it was filled.')
                : say('Thawed {of}.', { of: countOf(vial.thawCount, 'time') }),
          },
          ...(vial.dnaYieldUg === null
            ? []
            : [
                {
                  id: 'yield',
                  tone: 'neutral' as const,
                  text: say('Yield of DNA: {number} µg.', { number: sayNumber(vial.dnaYieldUg) }),
                },
              ]),
        ]}
        closing={null}
      />
      <Facts>
        {vial.goodFor.map((use) => (
          <Fact
            key={use.use}
            term={use.use === 'rna' ? say('RNA') : sayWord(use.use)}
            note={use.verdict === 'good' ? undefined : use.reason}
          >
            <StateBadge tone={TONES[use.verdict]}>{sayWord(use.verdict)}</StateBadge>
          </Fact>
        ))}
      </Facts>
    </Section>
  );
}

function sayExposed(exposed: Vial['exposed'], hours: (value: number) => string): string {
  const { leastHours, mostHours, unknown, spells } = exposed;
  if (spells.length === 0) return say('How long it lay without cold is not recorded.');
  const figure =
    leastHours === mostHours
      ? hours(leastHours)
      : say('{hours} to {hours2}', { hours: hours(leastHours), hours2: hours(mostHours) });
  const parts = spells.map((spell) => `${sayCode(spell.name)} ${hours(spell.leastHours)}`);
  const open =
    unknown.length === 0
      ? ''
      : say(' At least: {unknown} is not fully known.', {
          unknown: unknown.map(sayCode).join(', '),
        });
  return say('Without cold for {figure} ({parts}).{open}', { figure, parts: parts.join(', '), open });
}

function Uses({ vial }: { vial: Vial }) {
  const thaws = vial.thaws.map((thaw) => ({
    id: thaw.id,
    at: thaw.at,
    what: say('counted {of}', { of: countOf(thaw.thaws, 'thaw') }),
    why: thaw.reason,
    by: thaw.by,
    child: null,
  }));
  const uses = vial.uses.map((use) => ({
    id: use.id,
    at: use.at,
    what:
      use.amount === null
        ? say('used up')
        : say('took {amount}{x}', { amount: sayAmount(use.amount), x: use.thawed ? ', thawed' : '' }),
    why: use.purpose,
    by: use.by,
    child: use.child,
  }));
  const rows = [...uses, ...thaws].sort((a, b) => b.at.localeCompare(a.at));
  return (
    <DataList
      label={say('What was done with it, the latest first')}
      columns={[
        { id: 'at', head: say('When'), cell: (row) => <Moment at={row.at} show="both" /> },
        { id: 'what', head: say('What'), cell: (row) => sayWord(row.what) },
        { id: 'why', head: say('What for'), cell: (row) => row.why },
        {
          id: 'child',
          head: say('Became'),
          cell: (row) =>
            row.child === null ? '' : <Link href={paths.vial(row.child.id)}>{row.child.label}</Link>,
        },
        { id: 'by', head: say('By'), cell: (row) => row.by },
      ]}
      rows={rows}
      rowId={(row) => row.id}
      empty={<EmptyState title={say('Nothing was taken yet')} />}
    />
  );
}
