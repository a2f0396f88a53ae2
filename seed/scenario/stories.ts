import { Dice } from './random';
import { DEMO_SPECIES, type DemoSpecies } from './species';

/** How far a demo bird has come. */
export const ENDS = [
  ['reported', 4],
  ['in-triage', 3],
  ['declined', 2],
  ['accepted', 6],
  ['frozen', 9],
  ['queued', 24],
  ['claimed', 5],
  ['thawing', 1],
  ['draft', 4],
  ['in-review', 4],
  ['returned', 2],
  ['approved', 47],
  ['destroyed', 3],
  ['transferred', 2],
  ['released', 1],
] as const;
export type End = (typeof ENDS)[number][0];

export type Story = {
  index: number;
  end: End;
  species: DemoSpecies;
  foundOn: string;
  place: Place;
  cause: string;
  condition: 'fresh' | 'good' | 'fair' | 'poor';
  /** A deliberate problem, for somebody to solve. */
  problem: 'disease' | 'shot' | 'before-permit' | null;
  finder: string;
  style: 'skin-with-partial-skeleton' | 'whole-skeleton' | 'spread-wing-with-skin';
};

type Place = { county: string; locality: string; latitude: number; longitude: number };

/** Real counties, invented spots: a bird's place must lie in its county. */
export const PLACES: readonly Place[] = [
  {
    county: 'Franklin',
    locality: 'Quillmere Museum, east face, below the stair windows',
    latitude: 39.965,
    longitude: -82.995,
  },
  {
    county: 'Franklin',
    locality: 'Tallow Street parking deck, level 1',
    latitude: 39.957,
    longitude: -83.01,
  },
  { county: 'Delaware', locality: 'Roadside at the Old Fen bridge', latitude: 40.28, longitude: -83.0 },
  { county: 'Licking', locality: 'Harrow Hill orchard', latitude: 40.09, longitude: -82.48 },
  { county: 'Fairfield', locality: 'Yard in Sedge Lane', latitude: 39.75, longitude: -82.63 },
  { county: 'Pickaway', locality: 'Road to the Marl pits', latitude: 39.64, longitude: -83.02 },
  { county: 'Madison', locality: 'Windbreak at Cobble Farm', latitude: 39.89, longitude: -83.4 },
  { county: 'Knox', locality: 'Rehabilitation aviary at Three Oaks', latitude: 40.4, longitude: -82.42 },
];

const CAUSES = [
  'window-strike',
  'window-strike',
  'window-strike',
  'vehicle-strike',
  'cat',
  'died-in-care',
  'unknown',
] as const;
const FINDERS = [
  'Berta Quillan',
  'Ade Morrow',
  'Casimir Holt',
  'Lene Østby',
  'Joaquín Peral',
  'Mirela Stoica',
  'Dunstan Ferry',
];

/** By index: the third reported bird looks ill, the fourth was shot, one in triage was found before the permit began. */
const PROBLEMS: Partial<Record<number, Story['problem']>> = { 2: 'disease', 3: 'shot', 5: 'before-permit' };

const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);

/** The demo's birds: found over three years, most in the months of migration; the same each time. */
export function makeStories(): Story[] {
  const dice = new Dice(20_261_120);
  const ends = ENDS.flatMap(([end, count]) => Array.from({ length: count }, () => end));
  return ends.map((end, index): Story => {
    const species = dice.weighted(DEMO_SPECIES);
    const cause = dice.pick(CAUSES);
    return {
      index,
      end,
      species,
      foundOn: PROBLEMS[index] === 'before-permit' ? '2023-12-27' : findDay(end, dice),
      place: nearby(cause === 'died-in-care' ? lastPlace() : dice.pick(PLACES), dice),
      cause,
      condition: dice.pick(['fresh', 'good', 'good', 'fair']),
      problem: PROBLEMS[index] ?? null,
      finder: dice.pick(FINDERS),
      style:
        dice.next() < 0.75
          ? 'skin-with-partial-skeleton'
          : dice.next() < 0.6
            ? 'whole-skeleton'
            : 'spread-wing-with-skin',
    };
  });
}

function lastPlace(): Place {
  const place = PLACES.at(-1);
  if (place === undefined) throw new Error('The demo has no places.');
  return place;
}

const nearby = (place: Place, dice: Dice): Place => ({
  ...place,
  latitude: Number((place.latitude + (dice.next() - 0.5) * 0.02).toFixed(4)),
  longitude: Number((place.longitude + (dice.next() - 0.5) * 0.02).toFixed(4)),
});

/** What is new was found lately; what is done was found long ago. */
function findDay(end: End, dice: Dice): string {
  const lately: readonly End[] = ['reported', 'in-triage', 'accepted'];
  if (lately.includes(end)) return dayAfter('2026-11-02', dice.between(0, 14));
  if (end === 'thawing' || end === 'draft') return dayAfter('2026-10-06', dice.between(0, 8));
  if (end === 'claimed' || end === 'in-review' || end === 'returned')
    return dayAfter('2026-09-14', dice.between(0, 12));
  if (end === 'approved' || end === 'destroyed' || end === 'transferred' || end === 'released') {
    return migrationDay(dice.pick([2024, 2024, 2025, 2025, 2026]), dice, end === 'approved' ? 250 : 300);
  }
  return migrationDay(dice.pick([2025, 2026]), dice, 290);
}

function migrationDay(year: number, dice: Dice, lastDayOfYear: number): string {
  const spring = dice.between(85, 150);
  const autumn = dice.between(235, 310);
  const day = dice.next() < 0.4 ? spring : Math.min(autumn, lastDayOfYear);
  return dayAfter(`${year}-01-01`, day);
}
