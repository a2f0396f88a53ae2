'use client';

import { DataList } from '@/components/ui/data-list';
import { Section } from '@/components/ui/facts';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { say, sayWord } from '@/lib/platform/words/say';
import type { DayPlanAnswer, PlanLine } from '@/lib/queue/plan-wire';
import { sayMinutes, timeOf } from './minutes';

const toneOf = (state: string) => {
  if (state === 'prepared') return 'settled' as const;
  return state === 'thawing' || state === 'on-the-bench' ? ('lead' as const) : ('neutral' as const);
};

/** Who has what, from when until when, and how far each bird is now. */
export function PlanBoard({ plan }: { plan: DayPlanAnswer }) {
  const nameOf = (id: string | null) => plan.people.find(({ personId }) => personId === id)?.name;
  const isLive = plan.state === 'in-force';
  return (
    <Section
      id="board"
      title={isLive ? say('The day') : say('Who prepares what')}
      note={
        isLive ? say('Changes by anybody show here at once.') : say('A proposal: nothing has been taken yet.')
      }
    >
      <DataList<PlanLine>
        label={isLive ? say('Birds of the day') : say('Proposed birds')}
        columns={[
          {
            id: 'bird',
            head: say('Bird'),
            cell: (line) => (
              <>
                {line.bird.number}
                <br />
                <TaxonName scientific={line.bird.scientificName} common={line.bird.commonName} />
              </>
            ),
          },
          {
            id: 'person',
            head: say('Person'),
            cell: (line) => (
              <>
                {nameOf(line.personId) ?? say('somebody who left')}
                {line.byHand ? say(' (by hand)') : ''}
                {line.supervisorId === null
                  ? null
                  : sayWith('{br}beside {of}', { br: <br />, of: nameOf(line.supervisorId) })}
              </>
            ),
          },
          {
            id: 'time',
            head: say('Time'),
            cell: (line) => `${timeOf(line.startAt)}–${timeOf(line.endAt)} (${sayMinutes(line.minutes)})`,
          },
          {
            id: 'work',
            head: say('Preparation'),
            cell: (line) =>
              `${line.bird.style === null ? say('not chosen') : sayWord(line.bird.style)}, ${sayWord(line.bird.sizeClass).toLowerCase()}`,
          },
          {
            id: 'place',
            head: say('Where it lies'),
            deskOnly: true,
            cell: (line) => line.bird.place ?? say('no place noted'),
          },
          { id: 'state', head: say('Now'), cell: (line) => <LineState line={line} isLive={isLive} /> },
        ]}
        rows={plan.lines}
        rowId={(line) => line.birdId}
        rowHref={(line) => paths.bird(line.birdId)}
      />
    </Section>
  );
}

function LineState({ line, isLive }: { line: PlanLine; isLive: boolean }) {
  const { claimedBy, state } = line.bird;
  if (line.refused !== null) return <StateBadge tone="attention">{line.refused}</StateBadge>;
  const elsewhere = claimedBy !== null && claimedBy.id !== line.personId;
  return (
    <>
      <StateBadge tone={toneOf(state)}>{sayWord(state)}</StateBadge>
      {elsewhere ? say(' with {name} now', { name: claimedBy.name }) : null}
      {isLive && state === 'queued' ? say(' put back') : null}
    </>
  );
}
