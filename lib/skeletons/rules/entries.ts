import { type ElementId, elementName, isDivisible, portionName } from '../elements';
import { type BoneEntry, type BonePatch, boneEntrySchema } from '../schema';
import type { Portion, Side } from '../words';

/** What names an entry: 'humerus/left/whole'. */
export const nameOf = (entry: Pick<BoneEntry, 'element' | 'side' | 'portion'>): string =>
  `${entry.element}/${entry.side}/${entry.portion}`;

/** The entries with a key for each, which stays its own even where one name stands twice ('…#2'). */
export function keyEntries(entries: readonly BoneEntry[]): { key: string; entry: BoneEntry }[] {
  const seen = new Map<string, number>();
  return entries.map((entry) => {
    const name = nameOf(entry);
    const times = (seen.get(name) ?? 0) + 1;
    seen.set(name, times);
    return { key: times === 1 ? name : `${name}#${times}`, entry };
  });
}

/** An entry of an element, undecided unless said otherwise. */
export function makeEntry(
  element: ElementId,
  side: Side,
  rest: Partial<Omit<BoneEntry, 'element' | 'side'>> = {},
): BoneEntry {
  return {
    element,
    side,
    portion: 'whole',
    state: 'whole',
    place: null,
    materialId: null,
    note: null,
    ...rest,
  };
}

/** Where an entry is, in a word: its place, 'missing' or 'undecided'. */
export const whereabouts = (entry: BoneEntry): string =>
  entry.place ?? (entry.state === 'missing' ? 'missing' : 'undecided');

/** 'left humerus, whole: skeleton', 'left humerus, distal part, broken: skin'. */
export function describeEntry(entry: BoneEntry): string {
  const what = `${elementName(entry.element, entry.side)}, ${portionName(entry.element, entry.portion)}`;
  const broken = entry.state === 'broken' ? ', broken' : '';
  return `${what}${broken}: ${whereabouts(entry)}`;
}

/**
 * An entry after a patch. Recording it missing takes it from its place; giving it a place says it is there again;
 * a change of place drops the material, unless the patch names one.
 */
export function patchEntry(entry: BoneEntry, patch: BonePatch): BoneEntry {
  const next = { ...entry, ...patch };
  if (patch.place !== undefined && patch.place !== entry.place && patch.materialId === undefined) {
    next.materialId = null;
  }
  if (patch.place && patch.state === undefined && entry.state === 'missing') next.state = 'whole';
  if (next.state === 'missing') return { ...next, place: null, materialId: null };
  return next;
}

/** The entry that a key names, undecided; null if the key names none. */
function entryForKey(key: string): BoneEntry | null {
  const [element, side, portion = null] = key.split('/');
  const parsed = boneEntrySchema.safeParse({ element, side, portion });
  return parsed.success ? parsed.data : null;
}

/** The book after a patch to the entry of that key, which is added if the book has no such line yet. */
export function patchBook(entries: readonly BoneEntry[], key: string, patch: BonePatch): BoneEntry[] {
  const keyed = keyEntries(entries);
  if (keyed.some((one) => one.key === key)) {
    return keyed.map((one) => (one.key === key ? patchEntry(one.entry, patch) : one.entry));
  }
  const added = entryForKey(key);
  return added ? [...entries, patchEntry(added, patch)] : [...entries];
}

/** The book with a whole element cut into its two portions, both where the whole was. */
export function divideElement(entries: readonly BoneEntry[], key: string): BoneEntry[] {
  return keyEntries(entries).flatMap(({ key: own, entry }) => {
    if (own !== key || entry.portion !== 'whole' || !isDivisible(entry.element)) return [entry];
    return (['proximal', 'distal'] as const).map((portion) => ({ ...entry, portion }));
  });
}

/** The book with the portions of an element put together again, where the first of them is. */
export function joinElement(entries: readonly BoneEntry[], key: string): BoneEntry[] {
  const target = keyEntries(entries).find((keyed) => keyed.key === key)?.entry;
  if (!target || target.portion === 'whole') return [...entries];
  const isPart = (entry: BoneEntry) =>
    entry.element === target.element && entry.side === target.side && entry.portion !== 'whole';
  const first = entries.find(isPart);
  const states = entries.filter(isPart).map((entry) => entry.state);
  return entries.flatMap((entry) => {
    if (!isPart(entry)) return [entry];
    if (entry !== first) return [];
    const state = states.every((one) => one === 'missing') ? 'missing' : joinedState(states);
    return [
      { ...entry, portion: 'whole' as Portion, state, place: state === 'missing' ? null : entry.place },
    ];
  });
}

/** A bone with a part gone or broken is a broken bone. */
const joinedState = (states: readonly BoneEntry['state'][]): BoneEntry['state'] =>
  states.every((state) => state === 'whole') ? 'whole' : 'broken';
