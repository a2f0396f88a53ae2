import 'server-only';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import type { Changes } from '@/lib/platform/events';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { elementName, portionName } from './elements';
import { skeletonEvents } from './events';
import { bookLock } from './policy';
import {
  type BookBird,
  findBookBird,
  findBookOf,
  findBookTexts,
  findMaterialIds,
  findSettings,
  raiseRecord,
  replaceEntries,
} from './repo';
import { checkConservation } from './rules/conservation';
import { readDamage } from './rules/damage';
import { whereabouts } from './rules/entries';
import { changedElements } from './rules/merge';
import { type BookVerdict, doublesIn, judgeBook } from './rules/verdict';
import { type BoneBook, type BoneEntry, boneEntrySchema, type SaveBoneBookRequest } from './schema';
import { readSkeletonSettings } from './settings';
import { profileFor, type TaxonNames } from './taxa';

/** A bird's bone book as other stages read it. */
export type StoredBook = {
  entries: BoneEntry[];
  explanation: string | null;
  taxon: TaxonNames;
};

/** A taxon as a bird names it, as far as a skeleton differs by it. */
export type BookTaxon = Pick<
  NonNullable<BookBird['taxon']>,
  'orderName' | 'familyName' | 'genus' | 'scientificName'
>;

/** The bone book of a bird that the caller has found within its own scope. @throws AppError not-found */
export async function loadBoneBook(tx: Tx, birdId: string): Promise<StoredBook> {
  const bird = await findBookOf(tx, birdId);
  if (bird === null) throw notFound(say('This bird'));
  return storedBook(bird);
}

/** Books that balance, for those of a review desk are judged at each look at it. */
const balanced = new Set<string>();
const MOST_KEPT = 500;

/**
 * What keeps the books of several birds from balancing, as sentences, by bird.
 * @param birds each once, with the names it stands under
 */
export async function findImbalances(
  tx: Tx,
  birds: readonly { id: string; taxon: BookTaxon | null }[],
): Promise<Map<string, string[]>> {
  const texts = await findBookTexts(
    tx,
    birds.map(({ id }) => id),
  );
  return new Map(birds.map(({ id, taxon }) => [id, imbalancesIn(texts.get(id) ?? '', namesOf(taxon))]));
}

function imbalancesIn(text: string, names: TaxonNames): string[] {
  const known = `${names.order}/${names.family}/${names.genus}/${names.species} ${text}`;
  if (balanced.has(known)) return [];
  const found = imbalancesOf(text === '' ? [] : text.split(' ').map(readLine), names);
  if (found.length === 0) {
    if (balanced.size >= MOST_KEPT) balanced.clear();
    balanced.add(known);
  }
  return found;
}

function readLine(line: string): BoneEntry {
  const [element, side, portion, state, place] = line.split('/');
  return boneEntrySchema.parse({ element, side, portion, state, place });
}

/** What keeps a stored book from balancing, as sentences: what a reviewer needs to know before approving. */
export const boneImbalancesOf = (entries: readonly BoneEntry[], taxon: BookTaxon | null): string[] =>
  imbalancesOf(entries, namesOf(taxon));

const imbalancesOf = (entries: readonly BoneEntry[], names: TaxonNames): string[] =>
  checkConservation(entries, profileFor(names))
    .findings.filter(({ weight }) => weight === 'stop')
    .map(({ message }) => message.replace(/\.$/, ''));

/** What the rules say of a stored book, its completeness too. */
export const boneBookVerdict = (book: StoredBook): BookVerdict =>
  judgeBook(book.entries, book.explanation, profileFor(book.taxon));

/** A bird's bone book for its drawing. */
export async function showBoneBook(actor: Actor, birdId: string): Promise<BoneBook> {
  authorise(actor, 'bench.see');
  return loadBook(db(), actor, birdId);
}

/**
 * Saves a bird's bone book, whole. What does not balance is stored and reported; an element that stands there twice is
 * refused.
 * @throws AppError stale-version with the book as it is now; conflict when the record is locked; not-valid.
 */
export async function saveBoneBook(
  context: CommandContext,
  birdId: string,
  request: SaveBoneBookRequest,
): Promise<BoneBook> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  const entries = boneEntrySchema.array().parse(request.entries);
  return withTx(context, async (work) => {
    const bird = await findBookBird(work.db, actor.collectionId, birdId);
    if (bird === null) throw notFound(say('This bird'));
    authorise(actor, 'bench.write', { ownerIds: ownersOf(bird) });
    const lock = bookLock({ recordState: bird.bench?.state ?? null });
    if (lock !== null || bird.bench === null) throw conflict(lock ?? '');
    const before = storedBook(bird);
    await refuseImpossible(work.db, birdId, entries, before.taxon);
    const explanation = request.explanation ?? null;
    if ((await raiseRecord(work.db, bird.bench.id, request.version, explanation)) === 0) {
      throw staleVersion(say('This bone book'), await loadBook(work.db, actor, birdId));
    }
    const changed = changedElements(before.entries, entries);
    await replaceEntries(work.db, birdId, changed);
    const changes: Changes = Object.fromEntries(
      changed.map(({ element, side, before: was, after }) => [
        elementName(element, side),
        { from: sayLines(was), to: sayLines(after) },
      ]),
    );
    if (explanation !== before.explanation) {
      changes.explanation = { from: before.explanation, to: explanation };
    }
    work.audit(
      skeletonEvents.make(
        'skeletons.book-saved',
        { subjectType: 'bench-record', subjectId: bird.bench.id, birdId },
        {
          bird: bird.number,
          counts: countByPlace(entries),
          balanced: judgeBook(entries, null, profileFor(before.taxon)).balanced,
          changes,
        },
      ),
    );
    return loadBook(work.db, actor, birdId);
  });
}

async function refuseImpossible(
  tx: Tx,
  birdId: string,
  entries: readonly BoneEntry[],
  taxon: TaxonNames,
): Promise<void> {
  const doubles = doublesIn(judgeBook(entries, null, profileFor(taxon)).findings);
  const own = new Set(await findMaterialIds(tx, birdId));
  const strange = entries.filter(({ materialId }) => materialId !== null && !own.has(materialId));
  const problems = [
    ...doubles.map(({ element, side, message }) => ({ path: `entries.${element}.${side}`, message })),
    ...strange.map(({ element, side }) => ({
      path: `entries.${element}.${side}`,
      message: say('The {elementName} is put into a material of another bird.', {
        elementName: elementName(element, side),
      }),
    })),
  ];
  if (problems.length > 0) throw notValid(say('The bone book was not saved.'), problems);
}

/** 'skin', 'proximal part: skeleton; distal part: skin, broken', or null where the book is silent. */
function sayLines(lines: readonly BoneEntry[]): string | null {
  if (lines.length === 0) return null;
  return lines
    .map((line) => {
      const part = line.portion === 'whole' ? '' : `${portionName(line.element, line.portion)}: `;
      return `${part}${whereabouts(line)}${line.state === 'broken' ? ', broken' : ''}`;
    })
    .join('; ');
}

function countByPlace(entries: readonly BoneEntry[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const entry of entries) counts[whereabouts(entry)] = (counts[whereabouts(entry)] ?? 0) + 1;
  return counts;
}

const ownersOf = ({ bench, claimedById }: BookBird) => [bench?.preparatorId, bench?.scribeId, claimedById];

/** The book of a bird already loaded. */
export const storedBook = (bird: BookBird): StoredBook => ({
  entries: bird.bones.map(({ birdId: _, ...entry }) => boneEntrySchema.parse(entry)),
  explanation: bird.bench?.boneExplanation ?? null,
  taxon: namesOf(bird.taxon),
});

/** Names that exceptions are kept under; of a subspecies the binomial counts. */
const namesOf = (taxon: BookTaxon | null) => ({
  order: taxon?.orderName ?? null,
  family: taxon?.familyName ?? null,
  genus: taxon?.genus ?? null,
  species: taxon?.scientificName.split(' ').slice(0, 2).join(' ') ?? null,
});

async function loadBook(tx: Tx, actor: Actor, birdId: string): Promise<BoneBook> {
  const bird = await findBookBird(tx, actor.collectionId, birdId);
  if (bird === null) throw notFound(say('This bird'));
  const { usualSide } = readSkeletonSettings(await findSettings(tx, actor.collectionId));
  const book = storedBook(bird);
  const { damage, unread } = readDamage(brokenBonesIn(bird.bench?.values));
  const lock = bookLock({ recordState: bird.bench?.state ?? null });
  return {
    birdId,
    birdNumber: bird.number,
    readerId: actor.personId,
    recordId: bird.bench?.id ?? null,
    version: bird.bench?.version ?? 0,
    styleId: bird.bench?.styleId ?? bird.styleId,
    scientificName: bird.taxon?.scientificName ?? null,
    taxon: namesOf(bird.taxon),
    usualSide,
    entries: book.entries,
    explanation: book.explanation,
    recordedDamage: damage,
    unreadDamage: unread,
    verdict: boneBookVerdict(book),
    lock,
    abilities: {
      write: lock === null && may(actor, 'bench.write', { ownerIds: ownersOf(bird) }),
    },
  };
}

/** The bench record's list of broken bones, as its snapshot of values has it. */
function brokenBonesIn(values: unknown): string[] {
  const field = (values as { brokenBones?: { value?: unknown } } | null | undefined)?.brokenBones?.value;
  return Array.isArray(field) ? field.filter((item): item is string => typeof item === 'string') : [];
}
