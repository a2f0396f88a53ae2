import { judgeBook } from '@/lib/skeletons/rules/verdict';
import type { BoneBook, BoneEntry } from '@/lib/skeletons/schema';

/** An answer of the server for tests: a book that may be written in. */
export function makeBook(entries: BoneEntry[], rest: Partial<BoneBook> = {}): BoneBook {
  return {
    birdId: '01900000-0000-7000-8000-000000000001',
    birdNumber: 'SB-2026-0001',
    readerId: '01900000-0000-7000-8000-000000000002',
    recordId: '01900000-0000-7000-8000-000000000003',
    version: 1,
    styleId: 'skin-with-partial-skeleton',
    scientificName: 'Turdus migratorius',
    taxon: { order: null, family: null, genus: 'Turdus', species: 'Turdus migratorius' },
    usualSide: 'right',
    entries,
    explanation: null,
    recordedDamage: [],
    unreadDamage: [],
    verdict: judgeBook(entries, null),
    lock: null,
    abilities: { write: true },
    ...rest,
  };
}
