'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { FilesSection } from '@/components/attachments/files-section';
import { RecordHistory } from '@/components/audit/record-history';
import { CommentsSection } from '@/components/notices/comments-section';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { LifeLine } from '@/components/ui/life-line';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import type { BirdRecord as Bird } from '@/lib/desk/schema';
import { paths } from '@/lib/platform/paths';
import { sayDays } from '@/lib/platform/say-dates';
import { countOf, phrases, say, sayWord } from '@/lib/platform/words/say';
import { birdOptions } from './queries';

const SECTIONS = phrases([
  { id: 'origin', label: 'Where it came from' },
  { id: 'work', label: 'Preparation' },
  { id: 'materials', label: 'Materials' },
  { id: 'files', label: 'Photos and documents' },
  { id: 'comments', label: 'Comments' },
  { id: 'history', label: 'History' },
]);

/** One individual and all that was made of it: where each is now, and the whole story. */
export function BirdRecord({ id }: { id: string }) {
  const record = useQuery(birdOptions(id));
  if (record.error)
    return (
      <ErrorState
        what={say('This bird could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the bird')} lines={8} />;
  const bird = record.data;
  return (
    <>
      <RecordHead
        number={
          bird.catalogueNumber === null
            ? bird.number
            : say('{catalogueNumber} (salvaged as {number})', {
                catalogueNumber: bird.catalogueNumber,
                number: bird.number,
              })
        }
        title={<TaxonName scientific={bird.scientificName} common={bird.commonName} />}
        state={<StateBadge>{sayWord(bird.state)}</StateBadge>}
        lifeLine={
          <LifeLine
            stages={bird.life.stages}
            branches={bird.life.branches}
            label={say('Life of {number}', { number: bird.number })}
          />
        }
        sections={SECTIONS}
        acts={
          <Button variant="default" onClick={() => window.print()}>
            {say('Print')}
          </Button>
        }
      />
      <Origin bird={bird} />
      <Work bird={bird} />
      <Section id="materials" title={say('Materials')}>
        <DataList
          label={say('Materials of this bird')}
          columns={[
            { id: 'label', head: say('Number'), cell: (row) => row.label },
            { id: 'kind', head: say('Kind'), cell: (row) => sayWord(row.kind) },
            {
              id: 'state',
              head: say('Progress'),
              cell: (row) => (row.state === null ? '' : sayWord(row.state)),
            },
            { id: 'custody', head: say('Custody'), cell: (row) => <Custody custody={row.custody} /> },
            { id: 'place', head: say('Place'), cell: (row) => row.place ?? say('no place noted') },
          ]}
          rows={bird.materials}
          rowId={(row) => row.id}
          rowHref={(row) => (row.kind === 'vial' ? paths.vial(row.id) : paths.material(row.id))}
        />
      </Section>
      <FilesSection subjectType="bird" subjectId={id} />
      <CommentsSection subject={{ subjectType: 'bird', subjectId: id }} />
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ birdId: id }} />
      </Section>
    </>
  );
}

function Custody({ custody }: { custody: string }) {
  if (custody === 'on-shelf') return <StateBadge tone="settled">{say('On the shelf')}</StateBadge>;
  return <StateBadge tone={custody === 'missing' ? 'stop' : 'attention'}>{sayWord(custody)}</StateBadge>;
}

function Origin({ bird }: { bird: Bird }) {
  const { salvage, accession } = bird;
  return (
    <Section id="origin" title={say('Where it came from')}>
      <Facts>
        <Fact term={say('Found')}>{sayDays(salvage.foundFrom, salvage.foundTo)}</Fact>
        <Fact term={say('Place')}>
          {[salvage.locality, salvage.county, salvage.stateProvince].filter(Boolean).join(', ')}
          {salvage.locality === null ? say(' (exact place withheld)') : ''}
        </Fact>
        <Fact term={say('Suspected cause')}>{sayWord(salvage.cause)}</Fact>
        <Fact term={say('Salvage record')}>
          <Link href={paths.salvageRecord(salvage.id)}>{bird.number}</Link>
        </Fact>
        <Fact term={say('Permit')}>
          {salvage.permit === null ? (
            say('none counted')
          ) : (
            <Link href={paths.permit(salvage.permit.id)}>{salvage.permit.number}</Link>
          )}{' '}
          <StateBadge tone={salvage.coverage === 'covered' ? 'settled' : 'attention'}>
            {sayWord(salvage.coverage)}
          </StateBadge>
        </Fact>
        <Fact term={say('Accession')}>
          {accession === null ? (
            say('not yet')
          ) : (
            <Link href={paths.accession(accession.id)}>{accession.number}</Link>
          )}
        </Fact>
        {salvage.openHolds.length > 0 ? (
          <Fact term={say('On hold')} wide>
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
    <Section id="work" title={say('Preparation')}>
      <Facts>
        <Fact term={say('Bench record')}>
          {bench === null ? (
            say('not at the bench yet')
          ) : (
            <Link href={paths.benchRecord(bench.id)}>{bench.prepNumber}</Link>
          )}
        </Fact>
        {bench === null ? null : (
          <>
            <Fact term={say('Style')}>{sayWord(bench.styleId)}</Fact>
            <Fact term={say('Preparator')}>{bench.preparator}</Fact>
            <Fact term={say('Review')}>{sayWord(bench.state)}</Fact>
          </>
        )}
        <Fact term={say('Sex')}>{sayWord(bird.sex)}</Fact>
        {bird.bones.length === 0 ? null : (
          <Fact term={say('Bone book')} wide>
            {bird.bones
              .map(
                ({ place, elements }) => `${countOf(elements, 'element')}: ${sayWord(place).toLowerCase()}`,
              )
              .join('; ')}
          </Fact>
        )}
        {bird.loans.map((loan) => (
          <Fact
            key={`${loan.id}${loan.material}`}
            term={say('Loan of {material}', { material: loan.material })}
          >
            <Link href={paths.loan(loan.id)}>{loan.number}</Link>, {sayWord(loan.state).toLowerCase()}
          </Fact>
        ))}
      </Facts>
    </Section>
  );
}
