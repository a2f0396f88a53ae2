import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { entriesFor, exactHit, type Hit } from '@/components/shell/command-entries';
import { PLACES, type Place, placesOf, stagesOf } from '@/lib/desk/places';
import { filterPlaces } from '@/lib/desk/rules/filter-places';
import { STAGE_IDS } from '@/lib/desk/stages';
import { may, ROLES } from '@/lib/platform/permissions';

const filesIn = (folder: string, ending: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith(ending))
    .map((file) => `${folder}/${file}`);

/** Pages of the workspace that need no record: address → the permission they ask, and their title. */
const pages: Map<string, { permission?: string; title?: string }> = new Map(
  filesIn('app/(workspace)', '/page.tsx')
    .concat('app/(workspace)/page.tsx')
    .filter((file) => !file.includes('['))
    .map((file) => {
      const source = readFileSync(file, 'utf8');
      const address = file.replace('app/(workspace)', '').replace(/\/page\.tsx$/, '') || '/';
      return [
        address,
        {
          permission: /requireActor\('([^']+)'\)/.exec(source)?.[1],
          title: /titled\('([^']+)'/.exec(source)?.[1],
        },
      ];
    }),
);
const addressOf = (href: string) => href.replace(/[?#].*$/, '') || '/';
const who = (...roles: (typeof ROLES)[number][]) => ({ personId: 'p', roles });

describe('the table of places', () => {
  test('there are pages to hold it against', () => expect(pages.size).toBeGreaterThan(30));

  test.each([...pages.keys()])('%s can be gone to', (address) => {
    expect(PLACES.map(({ href }) => addressOf(href))).toContain(address);
  });

  test.each(PLACES.map((place) => [place.id, place] as const))('%s leads to a page', (_, place) => {
    const page = pages.get(addressOf(place.href));
    if (place.kind === 'task') {
      // Whoever may do the task may open its page.
      const opens = ROLES.filter((role) => may(who(role), page?.permission as 'workspace.enter'));
      const does = ROLES.filter((role) => may(who(role), place.permission));
      expect(does.length).toBeGreaterThan(0);
      expect(opens).toEqual(expect.arrayContaining(does));
    } else {
      expect({ permission: place.permission, title: place.label }).toEqual(page);
    }
  });

  test('a task names a section that its page has', () => {
    const sections = new Set(
      filesIn('components', '.tsx').flatMap((file) =>
        [...readFileSync(file, 'utf8').matchAll(/\bid="([a-z-]+)"/g)].map(([, id]) => id),
      ),
    );
    const named = PLACES.flatMap(({ href }) => href.split('#')[1] ?? []);
    expect(named.filter((section) => !sections.has(section))).toEqual([]);
  });

  test('nothing is named twice', () => {
    expect(new Set(PLACES.map(({ id, kind }) => `${kind} ${id}`)).size).toBe(PLACES.length);
    expect(new Set(PLACES.map(({ label }) => label)).size).toBe(PLACES.length);
  });

  test('the rail has every stage, in the order of a bird’s life', () => {
    const everybody = who(...ROLES);
    expect(stagesOf(everybody).map(({ id }) => id)).toEqual([...STAGE_IDS]);
  });

  test('a visitor is offered what a visitor may open, and nothing to write', () => {
    const offered = placesOf(who('visitor'));
    expect(offered.map(({ label }) => label)).toEqual(expect.arrayContaining(['Catalogue', 'Taxa']));
    expect(offered.filter(({ kind }) => kind === 'task')).toEqual([]);
  });
});

describe('what fits a text', () => {
  const labels = (text: string) => filterPlaces(PLACES, text).map(({ label }) => label);
  test.each([
    ['loan', ['Loans', 'Ask for a loan']],
    ['LOANS', ['Loans']],
    ['borrower', ['Links for borrowers', 'Ask for a loan', 'Loans']],
    ['next bird', ['Take the next bird', 'Queue']],
    ['bird next', ['Take the next bird', 'Queue']],
    ['accession', ['Accessions', 'Make an accession']],
    ['stocktaking', ['Count a place']],
    ['qr', ['Make a drop-off slip']],
    ['ca', ['Catalogue']],
    ['oan', []],
    ['zzz', []],
    ['!!!', []],
  ])('%s', (text, expected) => expect(labels(text).slice(0, expected.length || 99)).toEqual(expected));

  test('accents and capitals make no difference', () =>
    expect(filterPlaces([{ ...(PLACES[0] as Place), label: 'Äste' }], 'AST')).toHaveLength(1));

  test('every entry is found by its own label, first, and by each of its other words', () => {
    for (const place of PLACES) {
      expect(labels(place.label)[0]).toBe(place.label);
      for (const word of place.also) expect(labels(word)).toContain(place.label);
    }
  });

  test('nothing typed offers all, in the table’s order', () =>
    expect(filterPlaces(PLACES, '  ')).toEqual(PLACES));
});

describe('what the menu offers', () => {
  const hit = (number: string, catalogueNumber: string | null = null): Hit => ({
    birdId: `id-${number}`,
    number,
    catalogueNumber,
    scientificName: 'Turdus migratorius',
    commonName: 'American Robin',
    stage: 'queued',
  });
  const hits = [hit('B-2026-00012'), hit('B-2026-0001', 'LV 7')];
  const keys = (text: string, finds: 'birds' | 'specimens' | 'nothing', found = hits) =>
    entriesFor(text, { places: PLACES, hits: found, finds }).flatMap(({ entries }) => entries);

  test('a whole number stands first, whatever else begins with it', () => {
    expect(keys('b-2026-0001', 'birds')[0]?.href).toBe('/birds/id-B-2026-0001');
    expect(keys('lv 7', 'specimens')[0]?.href).toBe('/catalogue/id-B-2026-0001');
    expect(exactHit(hits, 'B-2026')).toBeNull();
    expect(exactHit([hit('X'), hit('X')], 'x')).toBeNull();
  });
  test('words: pages and tasks before birds, the whole catalogue last', () => {
    expect(keys('queue', 'birds').map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['place', 'record', 'search']),
    );
    expect(keys('queue', 'birds')[0]).toMatchObject({ kind: 'place', href: '/queue' });
    expect(keys('robin & co', 'birds').at(-1)?.href).toBe('/catalogue?q=robin+%26+co');
  });
  test('the group with the best fit stands first', () => {
    const titles = (text: string) =>
      entriesFor(text, { places: PLACES, hits: [], finds: 'birds' }).map(({ title }) => title);
    expect(titles('loan')).toEqual(['Go to', 'Begin', 'Search']);
    expect(titles('ask for')).toEqual(['Begin', 'Search']);
    expect(titles('')).toEqual(['Begin', 'Go to']);
  });
  test('who may see no catalogue is offered no record and no search', () =>
    expect(keys('queue', 'nothing').every(({ kind }) => kind === 'place')).toBe(true));
});
