import { say } from '@/lib/platform/words/say';
import { splitScientificName } from './scientific-name';
import classes from './text.module.css';

/**
 * A taxon as the trade writes it: scientific name in serif, italic from the genus down; the common name after it,
 * upright. Without a scientific name it says what is known.
 */
export function TaxonName({
  scientific,
  common,
  stacked = false,
}: {
  scientific?: string | null;
  common?: string | null;
  /** Common name on a line of its own: for heads and first columns. */
  stacked?: boolean;
}) {
  if (!scientific) return <span className={classes.taxon}>{common || say('Not yet identified')}</span>;
  return (
    <span className={classes.taxon} data-stacked={stacked || undefined}>
      <span className={classes.scientific} translate="no">
        {splitScientificName(scientific).map((part, index) => (
          <span key={`${part.text}${part.italic}`}>
            {index > 0 && ' '}
            {part.italic ? <i>{part.text}</i> : part.text}
          </span>
        ))}
      </span>
      {common && <span className={classes.common}>{common}</span>}
    </span>
  );
}
