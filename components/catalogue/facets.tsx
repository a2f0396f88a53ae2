'use client';

import { useMediaQuery } from '@mantine/hooks';
import { IconX } from '@tabler/icons-react';
import { facetTerm, hasTerm, toggleTerm } from '@/lib/catalogue/query/edit';
import type { FacetId, SearchFacet } from '@/lib/catalogue/search-wire';
import { MONTH_NAMES } from '@/lib/platform/say-dates';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import classes from './facets.module.css';

const HEADS: Record<FacetId, string> = phrases({
  stage: 'Where it is',
  family: 'Family',
  material: 'Material',
  sex: 'Sex',
  month: 'Month found',
  county: 'County',
  preparator: 'Preparator',
});
const AS_WRITTEN: ReadonlySet<FacetId> = new Set(['family', 'county', 'preparator']);
const SHOWN = 6;

function labelOf(facet: FacetId, value: string): string {
  if (facet === 'month') return MONTH_NAMES[Number(value) - 1] ?? value;
  return AS_WRITTEN.has(facet) ? value : sayWord(value);
}

type FacetProps = { facet: SearchFacet; q: string; onQuery: (q: string) => void };

function Values({ facet, q, onQuery, from, to }: FacetProps & { from: number; to?: number }) {
  return (
    <ul>
      {facet.values.slice(from, to).map(({ value, count }) => {
        const term = facetTerm(facet.id, value);
        const isOn = hasTerm(q, term);
        return (
          <li key={value}>
            <button type="button" aria-pressed={isOn} onClick={() => onQuery(toggleTerm(q, term))}>
              <span>{labelOf(facet.id, value)}</span>
              {isOn ? <IconX size={16} stroke={1.75} aria-hidden="true" /> : null}
              <span className={classes.count}>{sayNumber(count)}</span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}

function Facet(props: FacetProps) {
  const { facet } = props;
  if (facet.values.length === 0) return null;
  const more = facet.values.length - SHOWN;
  return (
    <section aria-label={HEADS[facet.id]}>
      <h3>{HEADS[facet.id]}</h3>
      <Values {...props} from={0} to={more > 0 ? SHOWN : undefined} />
      {more > 0 ? (
        <details>
          <summary>{say('{more} more', { more })}</summary>
          <Values {...props} from={SHOWN} />
        </details>
      ) : null}
    </section>
  );
}

/** What the hits have in common; each value narrows the search, and is taken away where it narrows it already. */
export function Facets({
  facets,
  q,
  onQuery,
}: {
  facets: readonly SearchFacet[];
  q: string;
  onQuery: (q: string) => void;
}) {
  const hasRoom = useMediaQuery('(min-width: 62em)', true);
  return (
    <details className={`${classes.fold} f-screen-only`} open={hasRoom}>
      <summary>{say('Narrow down')}</summary>
      <div className={classes.facets}>
        {facets.map((facet) => (
          <Facet key={facet.id} facet={facet} q={q} onQuery={onQuery} />
        ))}
      </div>
    </details>
  );
}
