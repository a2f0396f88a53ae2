'use client';

import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { RecordHistory } from '@/components/audit/record-history';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { countOf, sayWord } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
import type { TaxonRecord } from '@/lib/taxa/schema';
import { taxonOptions, useChangeSensitivity } from './queries';

/** One taxon: its names, where it belongs, and whether its exact places are kept back. */
export function TaxonPage({ id }: { id: string }) {
  const record = useQuery(taxonOptions(id));
  if (record.error)
    return (
      <ErrorState
        what="This taxon could not be loaded."
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what="Loading the taxon" lines={6} />;
  const taxon = record.data;
  return (
    <>
      <RecordHead
        number={sayWord(taxon.rank)}
        state={taxon.sensitive ? <StateBadge tone="attention">Sensitive places</StateBadge> : null}
        title={<TaxonName scientific={taxon.scientificName} common={taxon.commonName} />}
        intro={`${taxon.checklist.name}, edition ${taxon.checklist.edition}${taxon.checklist.current ? '' : ' (not the current one)'}`}
        back={{ label: 'Taxa', href: paths.taxa }}
      />
      <Section id="names" title="Names">
        <Facts>
          <Fact term="Author">{taxon.authorship ?? 'not in the list'}</Fact>
          <Fact term="Order">{taxon.orderName ?? 'not in the list'}</Fact>
          <Fact term="Family">{taxon.familyName ?? 'not in the list'}</Fact>
          {taxon.acceptedId === null ? null : (
            <Fact term="Accepted name">
              <Link href={paths.taxon(taxon.acceptedId)}>
                <TaxonName scientific={taxon.acceptedName ?? ''} />
              </Link>
            </Fact>
          )}
          <Fact term="Synonyms" wide>
            {taxon.synonyms.length === 0
              ? 'none in the list'
              : taxon.synonyms.map((synonym) => (
                  <div key={synonym.id}>
                    <TaxonName scientific={synonym.scientificName} />
                  </div>
                ))}
          </Fact>
          <Fact term="Birds here">{countOf(taxon.birds, 'bird')}</Fact>
        </Facts>
      </Section>
      <Section
        id="places"
        title="Places"
        note="Where a taxon is persecuted or its roosts and nests must not be found, its exact places are shown to few and coarsened in every export. Local rules decide."
      >
        <Sensitivity taxon={taxon} />
      </Section>
      {taxon.abilities.history ? (
        <Section id="history" title="History">
          <RecordHistory subject={{ subjectType: 'taxon', subjectId: id }} />
        </Section>
      ) : null}
    </>
  );
}

function Sensitivity({ taxon }: { taxon: TaxonRecord }) {
  const change = useChangeSensitivity(taxon.id);
  const { sensitive } = taxon;
  return (
    <>
      <p>
        {sensitive
          ? 'Exact places of this taxon are shown only to those who may see them.'
          : 'Exact places of this taxon are open to all who may see its records.'}
      </p>
      {change.error === null ? null : <p role="alert">{problemOf(change.error).title}</p>}
      {taxon.abilities.manage ? (
        <ConfirmInline
          act={sensitive ? 'Open its places' : 'Mark as sensitive'}
          question={
            sensitive
              ? 'Everybody who sees the records will see where they were found.'
              : 'Exact places will be coarsened for all but a few, also in exports.'
          }
          confirm={sensitive ? 'Open its places' : 'Mark as sensitive'}
          tone="attention"
          reason={{ label: 'Why?' }}
          onConfirm={(reason) => change.mutateAsync({ sensitive: !sensitive, reason })}
        />
      ) : null}
    </>
  );
}
