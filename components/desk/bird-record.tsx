'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { FilesSection } from '@/components/attachments/files-section';
import { RecordHistory } from '@/components/audit/record-history';
import { CommentsSection } from '@/components/notices/comments-section';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { LifeLine } from '@/components/ui/life-line';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { countOf, sayWord } from '@/components/ui/words';
import type { BirdRecord as Bird } from '@/lib/desk/schema';
import { paths } from '@/lib/platform/paths';
import { sayDays } from '@/lib/platform/say-dates';
import { birdOptions } from './queries';

const SECTIONS = [
  { id: 'origin', label: 'Where it came from' },
  { id: 'work', label: 'Preparation' },
  { id: 'materials', label: 'Materials' },
  { id: 'files', label: 'Photos and documents' },
  { id: 'comments', label: 'Comments' },
  { id: 'history', label: 'History' },
];

/** One individual and all that was made of it: where each is now, and the whole story. */
export function BirdRecord({ id }: { id: string }) {
  const record = useQuery(birdOptions(id));
  if (record.error)
    return (
      <ErrorState
        what="This bird could not be loaded."
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what="Loading the bird" lines={8} />;
  const bird = record.data;
  return (
    <>
      <RecordHead
        number={
          bird.catalogueNumber === null ? bird.number : `${bird.catalogueNumber} (salvaged as ${bird.number})`
        }
        title={<TaxonName scientific={bird.scientificName} common={bird.commonName} />}
        state={<StateBadge>{sayWord(bird.state)}</StateBadge>}
        lifeLine={
          <LifeLine
            stages={bird.life.stages}
            branches={bird.life.branches}
            label={`Life of ${bird.number}`}
          />
        }
        sections={SECTIONS}
        acts={
          <Button variant="default" onClick={() => window.print()}>
            Print
          </Button>
        }
      />
      <Origin bird={bird} />
      <Work bird={bird} />
      <Section id="materials" title="Materials">
        <DataList
          label="Materials of this bird"
          columns={[
            { id: 'label', head: 'Number', cell: (row) => row.label },
            { id: 'kind', head: 'Kind', cell: (row) => sayWord(row.kind) },
            { id: 'state', head: 'Progress', cell: (row) => (row.state === null ? '' : sayWord(row.state)) },
            { id: 'custody', head: 'Custody', cell: (row) => <Custody custody={row.custody} /> },
            { id: 'place', head: 'Place', cell: (row) => row.place ?? 'no place noted' },
          ]}
          rows={bird.materials}
          rowId={(row) => row.id}
          rowHref={(row) => (row.kind === 'vial' ? paths.vial(row.id) : paths.material(row.id))}
        />
      </Section>
      <FilesSection subjectType="bird" subjectId={id} />
      <CommentsSection subject={{ subjectType: 'bird', subjectId: id }} />
      <Section id="history" title="History">
        <RecordHistory subject={{ birdId: id }} />
      </Section>
    </>
  );
}

function Custody({ custody }: { custody: string }) {
  if (custody === 'on-shelf') return <StateBadge tone="settled">On the shelf</StateBadge>;
  return <StateBadge tone={custody === 'missing' ? 'stop' : 'attention'}>{sayWord(custody)}</StateBadge>;
}

function Origin({ bird }: { bird: Bird }) {
  const { salvage, accession } = bird;
  return (
    <Section id="origin" title="Where it came from">
      <Facts>
        <Fact term="Found">{sayDays(salvage.foundFrom, salvage.foundTo)}</Fact>
        <Fact term="Place">
          {[salvage.locality, salvage.county, salvage.stateProvince].filter(Boolean).join(', ')}
          {salvage.locality === null ? ' (exact place withheld)' : ''}
        </Fact>
        <Fact term="Suspected cause">{sayWord(salvage.cause)}</Fact>
        <Fact term="Salvage record">
          <Link href={paths.salvageRecord(salvage.id)}>{bird.number}</Link>
        </Fact>
        <Fact term="Permit">
          {salvage.permit === null ? (
            'none counted'
          ) : (
            <Link href={paths.permit(salvage.permit.id)}>{salvage.permit.number}</Link>
          )}{' '}
          <StateBadge tone={salvage.coverage === 'covered' ? 'settled' : 'attention'}>
            {sayWord(salvage.coverage)}
          </StateBadge>
        </Fact>
        <Fact term="Accession">
          {accession === null ? (
            'not yet'
          ) : (
            <Link href={paths.accession(accession.id)}>{accession.number}</Link>
          )}
        </Fact>
        {salvage.openHolds.length > 0 ? (
          <Fact term="On hold" wide>
            {salvage.openHolds.map((reason) => (
              <StateBadge key={reason} tone="stop">
                {reason}
              </StateBadge>
            ))}
          </Fact>
        ) : null}
      </Facts>
    </Section>
  );
}

function Work({ bird }: { bird: Bird }) {
  const { bench } = bird;
  return (
    <Section id="work" title="Preparation">
      <Facts>
        <Fact term="Bench record">
          {bench === null ? (
            'not at the bench yet'
          ) : (
            <Link href={paths.benchRecord(bench.id)}>{bench.prepNumber}</Link>
          )}
        </Fact>
        {bench === null ? null : (
          <>
            <Fact term="Style">{sayWord(bench.styleId)}</Fact>
            <Fact term="Preparator">{bench.preparator}</Fact>
            <Fact term="Review">{sayWord(bench.state)}</Fact>
          </>
        )}
        <Fact term="Sex">{sayWord(bird.sex)}</Fact>
        {bird.bones.length === 0 ? null : (
          <Fact term="Bone book" wide>
            {bird.bones
              .map(
                ({ place, elements }) => `${countOf(elements, 'element')}: ${sayWord(place).toLowerCase()}`,
              )
              .join('; ')}
          </Fact>
        )}
        {bird.loans.map((loan) => (
          <Fact key={`${loan.id}${loan.material}`} term={`Loan of ${loan.material}`}>
            <Link href={paths.loan(loan.id)}>{loan.number}</Link>, {sayWord(loan.state).toLowerCase()}
          </Fact>
        ))}
      </Facts>
    </Section>
  );
}
