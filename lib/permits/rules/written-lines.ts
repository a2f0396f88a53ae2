import type { PlaceSelector, TaxonSelector } from '../permit-schema';

/** Taxa and places as a person writes them, one a line. What cannot be read comes back as it stands, for the schema to refuse. */

const RANKS = ['order', 'family', 'genus', 'list'] as const;

/** 'all', 'family: Turdidae', 'list: us-17.11', 'Turdus migratorius'. */
export function writeTaxon(selector: TaxonSelector): string {
  if (selector.by === 'all') return 'all';
  if (selector.by === 'name') return selector.name;
  return `${selector.by}: ${selector.by === 'list' ? selector.listId : selector.name}`;
}

function readTaxon(line: string): TaxonSelector {
  if (/^all( birds)?$/i.test(line)) return { by: 'all' };
  const [, rank, name = ''] = /^(\w+)\s*:\s*(.*)$/.exec(line) ?? [];
  const by = RANKS.find((known) => known === rank?.toLowerCase());
  if (by === undefined) return { by: 'name', name: line };
  return by === 'list' ? { by, listId: name } : { by, name };
}

const linesOf = (text: string) =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');

export const readTaxa = (text: string): TaxonSelector[] => linesOf(text).map(readTaxon);
export const writeTaxa = (taxa: readonly TaxonSelector[]): string => taxa.map(writeTaxon).join('\n');

/** 'US-OH' or 'US-OH: Franklin, Delaware'. */
export const writePlaces = (places: readonly PlaceSelector[]): string =>
  places
    .map(({ within, counties }) => (counties === undefined ? within : `${within}: ${counties.join(', ')}`))
    .join('\n');

export const readPlaces = (text: string): PlaceSelector[] =>
  linesOf(text).map((line) => {
    const [within = '', counties] = line.split(':', 2).map((part) => part.trim());
    const names = (counties ?? '').split(',').map((name) => name.trim());
    const named = names.filter((name) => name !== '');
    return { within: within.toUpperCase(), ...(named.length === 0 ? {} : { counties: named }) };
  });
