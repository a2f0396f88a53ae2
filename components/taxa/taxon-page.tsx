'use client';

import { useQuery } from '@tanstack/react-query';
import { RecordHistory } from '@/components/audit/record-history';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import type { TaxonRecord } from '@/lib/taxa/schema';
import { taxonOptions, useChangeSensitivity } from './queries';

/** One taxon: its names, where it belongs, and whether its exact places are kept back. */
export function TaxonPage({ id }: { id: string }) {
  const record = useQuery(taxonOptions(id));
  if (record.error)
    return (
      <ErrorState
        what={say('This taxon could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the taxon')} lines={6} />;
  const taxon = record.data;
  return (
    <>
      <RecordHead
        number={sayWord(taxon.rank)}
        state={taxon.sensitive ? <StateBadge tone="attention">{say('Sensitive places')}</StateBadge> : null}
        title={<TaxonName scientific={taxon.scientificName} common={taxon.commonName} />}
        intro={say('{name}, edition {edition}{x}', {
          name: taxon.checklist.name,
          edition: taxon.checklist.edition,
          x: taxon.checklist.current ? '' : say(' (not the current one)'),
        })}
        back={{ label: say('Taxa'), href: paths.taxa }}
      />
      <Section id="names" title={say('Names')}>
        <Facts>
          <Fact term={say('Author')}>{taxon.authorship ?? say('not in the list')}</Fact>
          <Fact term={say('Order')}>{taxon.orderName ?? say('not in the list')}</Fact>
          <Fact term={say('Family')}>{taxon.familyName ?? say('not in the list')}</Fact>
          {taxon.acceptedId === null ? null : (
            <Fact term={say('Accepted name')}>
              <Link href={paths.taxon(taxon.acceptedId)}>
                <TaxonName scientific={taxon.acceptedName ?? ''} />
              </Link>
            </Fact>
          )}
          <Fact term={say('Synonyms')} wide>
            {taxon.synonyms.length === 0
              ? say('none in the list')
              : taxon.synonyms.map((synonym) => (
                  <div key={synonym.id}>
                    <TaxonName scientific={synonym.scientificName} />
                  </div>
                ))}
          </Fact>
          <Fact term={say('Birds here')}>{countOf(taxon.birds, 'bird')}</Fact>
        </Facts>
      </Section>
      <Section
        id="places"
        title={say('Places')}
        note={say(
          'Where a taxon is persecuted or its roosts and nests must not be found, its exact places are shown to few and coarsened in every export. Local rules decide.',
        )}
      >
        <Sensitivity taxon={taxon} />
      </Section>
      {taxon.abilities.history ? (
        <Section id="history" title={say('History')}>
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
          ? say('Exact places of this taxon are shown only to those who may see them.')
          : say('Exact places of this taxon are open to all who may see its records.')}
      </p>
      {change.error === null ? null : <p role="alert">{problemOf(change.error).title}</p>}
      {taxon.abilities.manage ? (
        <ConfirmInline
          act={sensitive ? say('Open its places') : say('Mark as sensitive')}
          question={
            sensitive
              ? say('Everybody who sees the records will see where they were found.')
              : say('Exact places will be coarsened for all but a few, also in exports.')
          }
          confirm={sensitive ? say('Open its places') : say('Mark as sensitive')}
          tone="attention"
          reason={{ label: say('Why?') }}
          onConfirm={(reason) => change.mutateAsync({ sensitive: !sensitive, reason })}
        />
      ) : null}
    </>
  );
}
