'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { useState } from 'react';
import { FilesSection } from '@/components/attachments/files-section';
import { RecordHistory } from '@/components/audit/record-history';
import { birdOptions } from '@/components/desk/queries';
import { CommentsSection } from '@/components/notices/comments-section';
import { LegalCaution } from '@/components/permits/legal-caution';
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
import { sayDay, sayDays } from '@/lib/platform/say-dates';
import type { SalvageRecord } from '@/lib/salvage/wire';
import { ChangeForm } from './change-form';
import { CoverageSection } from './coverage-section';
import { CustodySection } from './custody-section';
import { FinderSection } from './finder-section';
import { HoldsSection } from './holds-section';
import { LawFacts } from './law-facts';
import { findOptions, useFindAct } from './queries';
import { TriageActs } from './triage-acts';
import { STATE_TONES } from './words';

const SECTIONS = [
  { id: 'coverage', label: 'Coverage' },
  { id: 'holds', label: 'Holds' },
  { id: 'find', label: 'The find' },
  { id: 'custody', label: 'Custody' },
  { id: 'files', label: 'Photos and documents' },
  { id: 'comments', label: 'Comments' },
  { id: 'history', label: 'History' },
];

/** One found bird: what has to happen next, whether it is lawfully held and why, and how it came here. */
export function FindRecord({ id }: { id: string }) {
  const record = useQuery(findOptions(id));
  const act = useFindAct(id);
  const [changing, setChanging] = useState(false);
  if (record.error) {
    return (
      <ErrorState
        what="This record could not be loaded."
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what="Loading the record" lines={8} />;
  const find = record.data;
  return (
    <>
      <RecordHead
        number={find.number}
        title={
          <TaxonName
            scientific={find.identified ? find.taxon : null}
            common={find.identified ? find.commonName : find.taxon}
          />
        }
        state={<StateBadge tone={STATE_TONES[find.state]}>{sayWord(find.state)}</StateBadge>}
        intro={sayOrigin(find)}
        back={{ label: 'Salvage', href: paths.salvage }}
        sections={SECTIONS}
        lifeLine={find.birdId === null ? null : <Life birdId={find.birdId} number={find.number} />}
        acts={
          find.abilities.change && !changing ? (
            <Button variant="default" onClick={() => setChanging(true)}>
              Change what is known
            </Button>
          ) : null
        }
      />
      <TriageActs find={find} act={act} />
      {changing ? <ChangeForm find={find} onDone={() => setChanging(false)} /> : null}
      <CoverageSection find={find} act={act} />
      <HoldsSection find={find} act={act} />
      <TheFind find={find} />
      <LawFacts find={find} act={act} />
      <FinderSection find={find} act={act} />
      <CustodySection find={find} act={act} />
      <FilesSection subjectType="salvage" subjectId={id} />
      <CommentsSection subject={{ subjectType: 'salvage', subjectId: id }} />
      <Section id="history" title="History">
        <RecordHistory subject={{ subjectType: 'salvage', subjectId: id }} />
      </Section>
      <LegalCaution />
    </>
  );
}

function Life({ birdId, number }: { birdId: string; number: string }) {
  const bird = useQuery(birdOptions(birdId));
  return (
    <>
      {bird.data === undefined ? null : (
        <LifeLine
          stages={bird.data.life.stages}
          branches={bird.data.life.branches}
          label={`Life of ${number}`}
        />
      )}
      <p>
        <Link href={paths.bird(birdId)}>All of this bird</Link>
      </p>
    </>
  );
}

const sayOrigin = (find: SalvageRecord): string =>
  `Found ${sayDays(find.foundFrom, find.foundTo)}${find.county === '' ? '' : `, ${find.county}`}; came ${sayDay(find.receivedOn)}${
    find.source === 'drop-off' ? ' by drop-off slip' : ''
  }`;

function TheFind({ find }: { find: SalvageRecord }) {
  return (
    <Section id="find" title="The find">
      <Facts>
        <Fact term="Named on arrival">{find.verbatimTaxon}</Fact>
        <Fact term="What there is">
          {sayWord(find.specimenType)}
          {find.quantity > 1 ? `, ${find.quantity}` : ''}
        </Fact>
        <Fact term="Found" note={find.verbatimDate === null ? null : `as written: ${find.verbatimDate}`}>
          {sayDays(find.foundFrom, find.foundTo)}
        </Fact>
        <Fact term="Place" wide note={find.exactPlace ? sayCoordinates(find) : null}>
          {[find.locality, find.county, find.stateProvince, find.country].filter(Boolean).join(', ')}
          {find.exactPlace ? '' : ' (exact place withheld)'}
        </Fact>
        <Fact term="Suspected cause">{sayWord(find.cause)}</Fact>
        <Fact term="Condition">{sayWord(find.condition)}</Fact>
        <Fact term="Band or ring">
          {find.bandNumber ?? 'none noted'}
          {find.bandReportedOn === null ? '' : `, reported ${sayDay(find.bandReportedOn)}`}
        </Fact>
        <Fact term="Signs of disease">{find.diseaseSigns ? 'yes' : 'none noted'}</Fact>
        <Fact term="Suspected unlawful kill">{find.suspectedIllegal ? 'yes' : 'no'}</Fact>
        <Fact term="Circumstances" wide>
          {find.circumstances || 'not noted'}
        </Fact>
        {find.remarks === null ? null : (
          <Fact term="Remarks" wide>
            {find.remarks}
          </Fact>
        )}
        <Fact term="Logged">
          <Moment at={find.loggedAt} show="both" /> by {find.loggedBy ?? 'a finder'}
        </Fact>
        {find.receiptCode === null ? null : <Fact term="Code on the bag">{find.receiptCode}</Fact>}
        {find.accession === null ? null : (
          <Fact term="Accession">
            <Link href={paths.accession(find.accession.id)}>{find.accession.number}</Link>
          </Fact>
        )}
      </Facts>
    </Section>
  );
}

function sayCoordinates(find: SalvageRecord): string | null {
  if (find.latitude === null || find.longitude === null) return null;
  const within = find.uncertaintyM === null ? '' : ` ± ${find.uncertaintyM} m`;
  const written = find.verbatimCoordinates === null ? '' : `; as written: ${find.verbatimCoordinates}`;
  return `${find.latitude.toFixed(5)}, ${find.longitude.toFixed(5)}${within}${written}`;
}
