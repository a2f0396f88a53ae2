'use client';

import { useQuery } from '@tanstack/react-query';
import { RecordHistory } from '@/components/audit/record-history';
import { birdOptions } from '@/components/desk/queries';
import { CommentsSection } from '@/components/notices/comments-section';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import { LifeLine } from '@/components/ui/life-line';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { RecordHead } from '@/components/ui/page-head';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { say, sayWord } from '@/lib/platform/words/say';
import { SKIN_KINDS } from '@/lib/skins/schema';
import type { MaterialRecord as Material } from '@/lib/storage/schema';
import { materialOptions } from './queries';

const SkinActs = whenSeen(() => import('@/components/skins/skin-acts').then((module) => module.SkinActs), 6);
const SkeletonSections = whenSeen(
  () => import('@/components/skeletons/skeleton-sections').then((module) => module.SkeletonSections),
  8,
);

const isSkinLike = ({ kind }: Material): boolean => (SKIN_KINDS as readonly string[]).includes(kind);

const sectionsOf = (material: Material) => [
  { id: 'facts', label: say('What it is') },
  ...(material.kind === 'skeleton'
    ? [
        { id: 'cleaning', label: say('Cleaning') },
        { id: 'box', label: say('Box') },
        { id: 'bones', label: say('Bone book') },
      ]
    : []),
  ...(isSkinLike(material) ? [{ id: 'drying', label: say('Drying') }] : []),
  { id: 'steps', label: say('Steps') },
  { id: 'moves', label: say('Moves') },
  { id: 'comments', label: say('Comments') },
  { id: 'history', label: say('History') },
];

/** One material: what it is and of which bird, where it lies, its steps and moves, and what comes next. */
export function MaterialRecord({ id }: { id: string }) {
  const record = useQuery(materialOptions(id));
  if (record.error) {
    return (
      <ErrorState
        what={say('This material could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what={say('Loading the material')} lines={8} />;
  const material = record.data;
  return (
    <>
      <RecordHead
        number={material.label}
        title={<TaxonName scientific={material.bird.scientificName} common={material.bird.commonName} />}
        state={
          <>
            <StateBadge>
              {[sayWord(material.kind), material.state && sayWord(material.state).toLowerCase()]
                .filter(Boolean)
                .join(', ')}
            </StateBadge>
            {material.custody !== 'on-shelf' && (
              <StateBadge tone={material.custody === 'missing' ? 'stop' : 'attention'}>
                {sayWord(material.custody)}
              </StateBadge>
            )}
          </>
        }
        back={{
          label: say('Bird {catalogueNumber}', {
            catalogueNumber: material.bird.catalogueNumber ?? material.bird.number,
          }),
          href: paths.bird(material.bird.id),
        }}
        lifeLine={<BirdLine birdId={material.bird.id} number={material.bird.number} />}
        sections={sectionsOf(material)}
      />
      <WhatItIs material={material} />
      {material.kind === 'skeleton' && <SkeletonSections material={material} />}
      {isSkinLike(material) && (
        <Section id="drying" title={say('Drying')}>
          {material.abilities.advance ? (
            <SkinActs
              skins={[
                { id: material.id, state: material.state ?? 'pinned', step: material.steps[0] ?? null },
              ]}
              today={material.today}
            />
          ) : (
            <p>{material.steps[0]?.name ?? say('Not begun.')}</p>
          )}
        </Section>
      )}
      <Steps material={material} />
      <Moves material={material} />
      <CommentsSection subject={{ subjectType: 'material', subjectId: id }} />
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'material', subjectId: id }} />
      </Section>
    </>
  );
}

function BirdLine({ birdId, number }: { birdId: string; number: string }) {
  const { data } = useQuery(birdOptions(birdId));
  if (data === undefined) return null;
  return (
    <LifeLine
      stages={data.life.stages}
      branches={data.life.branches}
      label={say('Life of {number}', { number })}
    />
  );
}

function WhatItIs({ material }: { material: Material }) {
  const { bird, place, parent, loan } = material;
  return (
    <Section id="facts" title={say('What it is')}>
      <Facts>
        <Fact term={say('Bird')}>
          <Link href={paths.bird(bird.id)}>{bird.number}</Link>
          {bird.catalogueNumber !== null &&
            say(', catalogued as {catalogueNumber}', { catalogueNumber: bird.catalogueNumber })}
        </Fact>
        <Fact term={say('Sex')}>{sayWord(bird.sex)}</Fact>
        <Fact term={say('Made on')}>
          <Moment at={material.madeAt} />
        </Fact>
        {parent !== null && (
          <Fact term={say('Separated from')}>
            <Link href={paths.material(parent.id)}>{parent.label}</Link>, {sayWord(parent.kind).toLowerCase()}
          </Fact>
        )}
        <Fact term={say('Where it lies')}>
          {place === null
            ? say('no place noted')
            : sayWith('{link}, since {moment}', {
                link: <Link href={paths.storageUnit(place.unitId)}>{place.path}</Link>,
                moment: <Moment at={place.since} />,
              })}
        </Fact>
        {loan !== null && (
          <Fact term={say('On loan')}>
            <Link href={paths.loan(loan.id)}>{loan.number}</Link>
          </Fact>
        )}
        {material.description !== null && (
          <Fact term={say('Description')} wide>
            {material.description}
          </Fact>
        )}
        <Fact term={say('From the same bird')} wide>
          {material.siblings.length === 0
            ? say('nothing else')
            : material.siblings.map((other, index) => (
                <span key={other.id}>
                  {index > 0 && ', '}
                  <Link href={other.kind === 'vial' ? paths.vial(other.id) : paths.material(other.id)}>
                    {other.label}
                  </Link>{' '}
                  {sayWord(other.kind).toLowerCase()}
                </span>
              ))}
        </Fact>
      </Facts>
    </Section>
  );
}

function Steps({ material }: { material: Material }) {
  return (
    <Section id="steps" title={say('Steps')}>
      <DataList
        label={say('Steps of this material, the latest first')}
        columns={[
          { id: 'step', head: say('Step'), cell: (step) => step.name },
          {
            id: 'from',
            head: say('Begun'),
            cell: (step) => <Moment at={step.startedAt} />,
          },
          {
            id: 'to',
            head: say('Ended'),
            cell: (step) =>
              step.endedAt !== null ? (
                <Moment at={step.endedAt} />
              ) : step.dueOn === null ? (
                say('not yet')
              ) : (
                say('due {day}', { day: sayDay(step.dueOn) })
              ),
          },
          { id: 'days', head: say('Took'), unit: say('days'), numeric: true, cell: (step) => step.days },
          {
            id: 'how',
            head: say('How'),
            cell: (step) =>
              [step.method, step.temperatureC === null ? null : `${step.temperatureC} °C`, step.note]
                .filter(Boolean)
                .join('; '),
          },
          { id: 'by', head: say('By'), cell: (step) => step.by },
        ]}
        rows={material.steps}
        rowId={(step) => step.id}
        empty={
          <EmptyState title={say('No step begun')}>
            <p>{say('The state counts from the day the material was made.')}</p>
          </EmptyState>
        }
      />
    </Section>
  );
}

function Moves({ material }: { material: Material }) {
  return (
    <Section id="moves" title={say('Moves')}>
      <DataList
        label={say('Moves of this material, the latest first')}
        columns={[
          { id: 'at', head: say('When'), cell: (move) => <Moment at={move.at} show="both" /> },
          { id: 'from', head: say('From'), cell: (move) => move.from ?? say('nowhere noted') },
          { id: 'to', head: say('To'), cell: (move) => move.to ?? say('off the shelf') },
          { id: 'why', head: say('Why'), cell: (move) => move.reason ?? '' },
          { id: 'by', head: say('By'), cell: (move) => move.by ?? '' },
        ]}
        rows={material.moves}
        rowId={(move) => move.id}
        empty={
          <EmptyState title={say('Never moved')}>
            <p>{say('It gets its first place when it is put into a drawer, a box or a freezer.')}</p>
          </EmptyState>
        }
      />
    </Section>
  );
}
