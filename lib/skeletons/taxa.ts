import { type CountRange, ELEMENT_IDS, type ElementId, elementOf } from './elements';

/** The names that a bird stands under; each may be unknown. */
export interface TaxonNames {
  order?: string | null;
  family?: string | null;
  genus?: string | null;
  species?: string | null;
}

/** Where a statement comes from: read in its source, or general knowledge. */
export type Evidence = 'read' | 'from-memory';

/** What a taxon has otherwise than birds at large. */
export interface TaxonException {
  /** The scientific names it holds for: orders, families, genera or binomials. */
  taxa: readonly string[];
  /** Never there. */
  absent?: readonly ElementId[];
  /** There in some members or reduced to a trace: absence needs no explanation. */
  variable?: readonly ElementId[];
  counts?: Partial<Record<ElementId, CountRange>>;
  evidence: Evidence;
  note: string;
}

const hallux = ['toe-1', 'metatarsal-1'] as const;
const toes = (second: number, third: number, fourth: number) => ({
  'toe-2': { min: second, max: second },
  'toe-3': { min: third, max: third },
  'toe-4': { min: fourth, max: fourth },
});

/** Exceptions as data, the general ones first; where two speak of one element the later one holds. */
export const TAXON_EXCEPTIONS: readonly TaxonException[] = [
  {
    taxa: ['Sphenisciformes'],
    counts: { 'sclerotic-ring': { min: 10, max: 17 } },
    variable: ['alular-digit'],
    evidence: 'read',
    note: 'penguins have 10–17 ossicles in a ring (Hadden 2021); the alular digit is fused (from memory)',
  },
  {
    taxa: ['Struthionidae'],
    absent: [...hallux, 'toe-2', 'furcula'],
    evidence: 'from-memory',
    note: 'ostriches have two toes and no wishbone',
  },
  {
    taxa: ['Rheidae', 'Casuariidae', 'Dromaiidae'],
    absent: hallux,
    variable: ['furcula', 'alular-digit', 'minor-digit', 'pygostyle', 'radiale', 'ulnare'],
    evidence: 'from-memory',
    note: 'three toes; wishbone and hand reduced',
  },
  {
    taxa: ['Apterygidae'],
    absent: ['furcula'],
    variable: ['alular-digit', 'minor-digit', 'radiale', 'ulnare', 'pygostyle'],
    evidence: 'from-memory',
    note: 'kiwis have no wishbone and a much reduced hand',
  },
  {
    taxa: ['Otididae', 'Turnicidae', 'Burhinidae', 'Haematopodidae', 'Alcidae', 'Himantopus', 'Cursorius'],
    absent: hallux,
    evidence: 'from-memory',
    note: 'no hind toe',
  },
  {
    taxa: ['Charadriidae', 'Diomedeidae', 'Procellariidae', 'Rissa'],
    variable: hallux,
    evidence: 'from-memory',
    note: 'hind toe absent in many, a trace in others',
  },
  {
    taxa: ['Calidris alba', 'Picoides tridactylus', 'Picoides arcticus', 'Picoides dorsalis', 'Syrrhaptes'],
    absent: hallux,
    evidence: 'from-memory',
    note: 'no hind toe, unlike their relatives',
  },
  { taxa: ['Ceyx'], variable: ['toe-2'], evidence: 'from-memory', note: 'second toe absent or a trace' },
  {
    taxa: ['Apus', 'Tachymarptis', 'Chaetura'],
    counts: toes(3, 3, 3),
    evidence: 'from-memory',
    note: 'swifts of this group have three phalanges in each front toe',
  },
  {
    taxa: ['Caprimulgidae'],
    counts: toes(3, 4, 4),
    evidence: 'from-memory',
    note: 'four phalanges in the fourth toe',
  },
  {
    taxa: ['Cygnus'],
    counts: { cervicals: { min: 20, max: 24 } },
    evidence: 'from-memory',
    note: 'long neck, 22–26 vertebrae with atlas and axis',
  },
  {
    taxa: ['Musophagidae', 'Psittaciformes', 'Ramphastidae', 'Strigidae'],
    variable: ['furcula'],
    evidence: 'from-memory',
    note: 'collar bones do not meet, or are wanting, in some members',
  },
];

export type Presence = 'expected' | 'variable' | 'absent';

export interface ElementProfile {
  presence: Presence;
  count: CountRange;
  /** The exceptions that applied. */
  notes: string[];
}

/** What one bird's skeleton should hold, element by element. */
export type SkeletonProfile = Readonly<Record<ElementId, ElementProfile>>;

/** The bird at large, where the taxon is unknown or has nothing otherwise. */
export const GENERAL_PROFILE: SkeletonProfile = Object.fromEntries(
  ELEMENT_IDS.map((id): [ElementId, ElementProfile] => {
    const { count, variable } = elementOf(id);
    return [id, { presence: variable ? 'variable' : 'expected', count, notes: [] }];
  }),
) as Record<ElementId, ElementProfile>;

/** The profile of a taxon: the general bird, changed by each exception that names its order, family, genus or species. */
export function profileFor(
  taxon: TaxonNames = {},
  exceptions: readonly TaxonException[] = TAXON_EXCEPTIONS,
): SkeletonProfile {
  const names = [taxon.order, taxon.family, taxon.genus, taxon.species];
  const held = exceptions.filter(({ taxa }) => taxa.some((name) => names.includes(name)));
  if (held.length === 0) return GENERAL_PROFILE;
  const profile: Record<ElementId, ElementProfile> = { ...GENERAL_PROFILE };
  for (const exception of held) {
    for (const id of exception.absent ?? []) {
      profile[id] = { presence: 'absent', count: { min: 0, max: 0 }, notes: [exception.note] };
    }
    for (const id of exception.variable ?? []) {
      const { count } = elementOf(id);
      profile[id] = {
        presence: 'variable',
        count: { min: 0, max: count.max },
        notes: [...profile[id].notes, exception.note],
      };
    }
    for (const [id, count] of Object.entries(exception.counts ?? {}) as [ElementId, CountRange][]) {
      profile[id] = { ...profile[id], count, notes: [...profile[id].notes, exception.note] };
    }
  }
  return profile;
}
