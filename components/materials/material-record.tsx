'use client';

import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { RecordHistory } from '@/components/audit/record-history';
import { birdOptions } from '@/components/desk/queries';
import { CommentsSection } from '@/components/notices/comments-section';
import { SkeletonSections } from '@/components/skeletons/skeleton-sections';
import { SkinActs } from '@/components/skins/skin-acts';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { LifeLine } from '@/components/ui/life-line';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { RecordHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { sayWord } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { SKIN_KINDS } from '@/lib/skins/schema';
import type { MaterialRecord as Material } from '@/lib/storage/schema';
import { materialOptions } from './queries';

const isSkinLike = ({ kind }: Material): boolean => (SKIN_KINDS as readonly string[]).includes(kind);

const sectionsOf = (material: Material) => [
  { id: 'facts', label: 'What it is' },
  ...(material.kind === 'skeleton'
    ? [
        { id: 'cleaning', label: 'Cleaning' },
        { id: 'box', label: 'Box' },
        { id: 'bones', label: 'Bone book' },
      ]
    : []),
  ...(isSkinLike(material) ? [{ id: 'drying', label: 'Drying' }] : []),
  { id: 'steps', label: 'Steps' },
  { id: 'moves', label: 'Moves' },
  { id: 'comments', label: 'Comments' },
  { id: 'history', label: 'History' },
];

/** One material: what it is and of which bird, where it lies, its steps and moves, and what comes next. */
export function MaterialRecord({ id }: { id: string }) {
  const record = useQuery(materialOptions(id));
  if (record.error) {
    return (
      <ErrorState
        what="This material could not be loaded."
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what="Loading the material" lines={8} />;
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
          label: `Bird ${material.bird.catalogueNumber ?? material.bird.number}`,
          href: paths.bird(material.bird.id),
        }}
        lifeLine={<BirdLine birdId={material.bird.id} number={material.bird.number} />}
        sections={sectionsOf(material)}
      />
      <WhatItIs material={material} />
      {material.kind === 'skeleton' && <SkeletonSections material={material} />}
      {isSkinLike(material) && (
        <Section id="drying" title="Drying">
          {material.abilities.advance ? (
            <SkinActs
              skins={[
                { id: material.id, state: material.state ?? 'pinned', step: material.steps[0] ?? null },
              ]}
              today={material.today}
            />
          ) : (
            <p>{material.steps[0]?.name ?? 'Not begun.'}</p>
          )}
        </Section>
      )}
      <Steps material={material} />
      <Moves material={material} />
      <CommentsSection subject={{ subjectType: 'material', subjectId: id }} />
      <Section id="history" title="History">
        <RecordHistory subject={{ subjectType: 'material', subjectId: id }} />
      </Section>
    </>
  );
}

function BirdLine({ birdId, number }: { birdId: string; number: string }) {
  const { data } = useQuery(birdOptions(birdId));
  if (data === undefined) return null;
  return <LifeLine stages={data.life.stages} branches={data.life.branches} label={`Life of ${number}`} />;
}

function WhatItIs({ material }: { material: Material }) {
  const { bird, place, parent, loan } = material;
  return (
    <Section id="facts" title="What it is">
      <Facts>
        <Fact term="Bird">
          <Link href={paths.bird(bird.id)}>{bird.number}</Link>
          {bird.catalogueNumber !== null && `, catalogued as ${bird.catalogueNumber}`}
        </Fact>
        <Fact term="Sex">{sayWord(bird.sex)}</Fact>
        <Fact term="Made on">
          <Moment at={material.madeAt} />
        </Fact>
        {parent !== null && (
          <Fact term="Separated from">
            <Link href={paths.material(parent.id)}>{parent.label}</Link>, {sayWord(parent.kind).toLowerCase()}
          </Fact>
        )}
        <Fact term="Where it lies">
          {place === null ? (
            'no place noted'
          ) : (
            <>
              <Link href={paths.storageUnit(place.unitId)}>{place.path}</Link>, since{' '}
              <Moment at={place.since} />
            </>
          )}
        </Fact>
        {loan !== null && (
          <Fact term="On loan">
            <Link href={paths.loan(loan.id)}>{loan.number}</Link>
          </Fact>
        )}
        {material.description !== null && (
          <Fact term="Description" wide>
            {material.description}
          </Fact>
        )}
        <Fact term="From the same bird" wide>
          {material.siblings.length === 0
            ? 'nothing else'
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
    <Section id="steps" title="Steps">
      <DataList
        label="Steps of this material, the latest first"
        columns={[
          { id: 'step', head: 'Step', cell: (step) => step.name },
          {
            id: 'from',
            head: 'Begun',
            cell: (step) => <Moment at={step.startedAt} />,
          },
          {
            id: 'to',
            head: 'Ended',
            cell: (step) =>
              step.endedAt !== null ? (
                <Moment at={step.endedAt} />
              ) : step.dueOn === null ? (
                'not yet'
              ) : (
                `due ${sayDay(step.dueOn)}`
              ),
          },
          { id: 'days', head: 'Took', unit: 'days', numeric: true, cell: (step) => step.days },
          {
            id: 'how',
            head: 'How',
            cell: (step) =>
              [step.method, step.temperatureC === null ? null : `${step.temperatureC} °C`, step.note]
                .filter(Boolean)
                .join('; '),
          },
          { id: 'by', head: 'By', cell: (step) => step.by },
        ]}
        rows={material.steps}
        rowId={(step) => step.id}
        empty={
          <EmptyState title="No step begun">
            <p>The state counts from the day the material was made.</p>
          </EmptyState>
        }
      />
    </Section>
  );
}

function Moves({ material }: { material: Material }) {
  return (
    <Section id="moves" title="Moves">
      <DataList
        label="Moves of this material, the latest first"
        columns={[
          { id: 'at', head: 'When', cell: (move) => <Moment at={move.at} show="both" /> },
          { id: 'from', head: 'From', cell: (move) => move.from ?? 'nowhere noted' },
          { id: 'to', head: 'To', cell: (move) => move.to ?? 'off the shelf' },
          { id: 'why', head: 'Why', cell: (move) => move.reason ?? '' },
          { id: 'by', head: 'By', cell: (move) => move.by ?? '' },
        ]}
        rows={material.moves}
        rowId={(move) => move.id}
        empty={
          <EmptyState title="Never moved">
            <p>It gets its first place when it is put into a drawer, a box or a freezer.</p>
          </EmptyState>
        }
      />
    </Section>
  );
}
