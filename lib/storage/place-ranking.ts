import { countOf, say } from '@/lib/platform/words/say';
import type { ProposedPlace } from './schema';

/** A unit in which materials of the kind lie, with how many of them are related to what is put away. */
export interface Neighbours {
  unitId: string;
  path: string;
  code: string;
  positioned: boolean;
  /** How many more it takes; null where that is not limited. */
  free: number | null;
  sameSpecies: number;
  sameGenus: number;
  sameFamily: number;
  /** All of the kind, related or not. */
  ofKind: number;
}

const MOST = 5;

/**
 * Where to put materials, best first: where most of the same species lie, then genus, then family, then most of the kind.
 * Units that have not room for all of them come last.
 * @param names the taxon as it is said in the reasons
 */
export function rankPlaces(
  units: readonly Neighbours[],
  count: number,
  names: { kind: string; species: string | null; genus: string | null; family: string | null },
): ProposedPlace[] {
  const hasRoom = ({ free }: Neighbours) => free === null || free >= count;
  const weight = (unit: Neighbours) => [
    hasRoom(unit) ? 1 : 0,
    unit.sameSpecies,
    unit.sameGenus,
    unit.sameFamily,
    unit.ofKind,
  ];
  return [...units]
    .sort((a, b) => compare(weight(b), weight(a)) || a.path.localeCompare(b.path))
    .slice(0, MOST)
    .map(({ unitId, path, code, positioned, free, ...lying }) => {
      const room = free !== null && free < count ? say(' It has room for {free} more.', { free }) : '';
      return { unitId, path, code, positioned, free, reason: `${reasonFor(lying, names)}${room}` };
    });
}

const compare = (a: readonly number[], b: readonly number[]): number => {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
};

function reasonFor(
  lying: Pick<Neighbours, 'sameSpecies' | 'sameGenus' | 'sameFamily' | 'ofKind'>,
  names: { kind: string; species: string | null; genus: string | null; family: string | null },
): string {
  const [count, of] = [
    [lying.sameSpecies, names.species] as const,
    [lying.sameGenus, names.genus] as const,
    [lying.sameFamily, names.family] as const,
  ].find(([many, name]) => many > 0 && name !== null) ?? [lying.ofKind, null];
  const counted = countOf(count, names.kind);
  if (count === 1)
    return of === null
      ? say('{counted} lies here.', { counted })
      : say('{counted} of {of} lies here.', { counted, of });
  return of === null
    ? say('{counted} lie here.', { counted })
    : say('{counted} of {of} lie here.', { counted, of });
}
