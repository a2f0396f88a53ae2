import type { FindAnswer } from '@/lib/catalogue/search-wire';
import type { Place } from '@/lib/desk/places';
import { filterPlaces } from '@/lib/desk/rules/filter-places';
import { queryString } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import type { Role } from '@/lib/platform/permissions';
import { phrases, say } from '@/lib/platform/words/say';

export type Hit = FindAnswer['hits'][number];
export type Entry = { key: string; href: string } & (
  | { kind: 'place'; place: Place }
  | { kind: 'record'; hit: Hit }
  | { kind: 'search'; text: string }
);
export type EntryGroup = { title: string; entries: Entry[] };

/** Whose menu it is. */
export type CommandActor = { personId: string | null; name: string; roles: readonly Role[] };

/** What a reader may open: a bird's own page, its specimen in the catalogue, or no record at all. */
export type Finds = 'birds' | 'specimens' | 'nothing';

const TITLES = phrases({ task: 'Begin', page: 'Go to' } as const);

function placeGroups(places: readonly Place[]): EntryGroup[] {
  const groups = new Map<string, Entry[]>();
  for (const place of places) {
    const title = TITLES[place.kind === 'task' ? 'task' : 'page'];
    const entry: Entry = { kind: 'place', key: `place-${place.id}`, href: place.href, place };
    groups.set(title, [...(groups.get(title) ?? []), entry]);
  }
  return [...groups].map(([title, entries]) => ({ title, entries }));
}

const recordEntry = (hit: Hit, finds: Finds): Entry => ({
  kind: 'record',
  key: `record-${hit.birdId}`,
  href: finds === 'birds' ? paths.bird(hit.birdId) : paths.catalogueEntry(hit.birdId),
  hit,
});

/** Whether a number is what was probably typed: records then stand before pages. */
export const looksLikeNumber = (text: string): boolean => /\d/.test(text);

/** The one bird whose number or catalogue number was typed whole; null when none or several. */
export function exactHit(hits: readonly Hit[], text: string): Hit | null {
  const whole = text.trim().toLowerCase();
  const exact = hits.filter((hit) =>
    [hit.number, hit.catalogueNumber].some((number) => number?.toLowerCase() === whole),
  );
  return exact.length === 1 ? (exact[0] ?? null) : null;
}

/**
 * What the command menu offers for a text, group by group: tasks and pages that fit (all of them for no text), birds
 * that were found, and at the end the whole catalogue. The group with the best fit stands first.
 */
export function entriesFor(
  text: string,
  { places, hits, finds }: { places: readonly Place[]; hits: readonly Hit[]; finds: Finds },
): EntryGroup[] {
  const typed = text.trim();
  const groups = placeGroups(filterPlaces(places, typed));
  if (typed === '' || finds === 'nothing') return groups;
  const exact = exactHit(hits, typed);
  const ordered = exact === null ? hits : [exact, ...hits.filter((hit) => hit !== exact)];
  const records =
    ordered.length === 0
      ? []
      : [{ title: say('Birds'), entries: ordered.map((hit) => recordEntry(hit, finds)) }];
  const search: Entry = {
    kind: 'search',
    key: 'search',
    href: `${paths.catalogue}${queryString({ q: typed })}`,
    text: typed,
  };
  return [
    ...(looksLikeNumber(typed) ? [...records, ...groups] : [...groups, ...records]),
    { title: say('Search'), entries: [search] },
  ];
}
