import { ELEMENT_IDS, type ElementId, ENGLISH_ELEMENTS, sidesOf } from '../elements';
import type { BoneEntry } from '../schema';
import type { Side } from '../words';
import type { RecordedDamage } from './split';

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();

/** Ways to name an element beside its own name, term and id; common speech, from memory. */
const ALSO: Partial<Record<ElementId, readonly string[]>> = {
  cranium: ['skull', 'braincase', 'upper jaw'],
  mandible: ['lower mandible', 'jaw'],
  sternum: ['keel'],
  furcula: ['wish bone', 'clavicles', 'collar bones'],
  'hip-bone': ['pelvis', 'ilium', 'ischium', 'pubis', 'innominate'],
  tarsometatarsus: ['tarsus'],
  tibiotarsus: ['tibia', 'shin'],
  carpometacarpus: ['metacarpus'],
  femur: ['thigh bone'],
  'toe-1': ['hallux'],
  thoracics: ['notarium', 'thoracic vertebrae'],
  cervicals: ['cervical vertebrae', 'neck'],
};

const NAMES: readonly [string, ElementId][] = ELEMENT_IDS.flatMap((id) =>
  [ENGLISH_ELEMENTS[id].name, ENGLISH_ELEMENTS[id].term, id, ...(ALSO[id] ?? [])].map(
    (name): [string, ElementId] => [plain(name), id],
  ),
);

/** The element that a text names; the longest name in it wins, so that 'tarsometatarsus' is no 'tarsus'. */
function elementIn(text: string): ElementId | null {
  const padded = ` ${text} `;
  let best: [string, ElementId] | null = null;
  for (const named of NAMES) {
    const found = padded.includes(` ${named[0]} `) || padded.includes(` ${named[0]}s `);
    if (found && (best === null || named[0].length > best[0].length)) best = named;
  }
  return best?.[1] ?? null;
}

function sidesIn(text: string, element: ElementId): readonly Side[] {
  const sides = sidesOf(element);
  if (sides.length === 1 || /\bboth\b/.test(text)) return sides;
  const named = sides.filter((side) => new RegExp(`\\b${side}\\b`).test(text));
  return named;
}

/**
 * Broken bones as the bench wrote them, item by item ('left humerus', 'both ulnae broken'), read as elements. What names no
 * element, or a paired one without its side, comes back in `unread`.
 */
export function readDamage(items: readonly string[]): { damage: RecordedDamage[]; unread: string[] } {
  const damage: RecordedDamage[] = [];
  const unread: string[] = [];
  for (const item of items) {
    const text = plain(item)
      .replace(/\bulnae\b/g, 'ulna')
      .replace(/\bradii\b/g, 'radius');
    const element = elementIn(text);
    const sides = element === null ? [] : sidesIn(text, element);
    if (element === null || sides.length === 0) {
      unread.push(item);
      continue;
    }
    const state = /\b(missing|gone|absent|lost)\b/.test(text) ? 'missing' : 'broken';
    for (const side of sides) damage.push({ element, side, state });
  }
  return { damage, unread };
}

/** What the book itself says is broken or missing; an element counts as missing where nothing of it is left. */
export function damageInBook(entries: readonly BoneEntry[]): RecordedDamage[] {
  return ELEMENT_IDS.flatMap((element) =>
    sidesOf(element).flatMap((side): RecordedDamage[] => {
      const own = entries.filter((entry) => entry.element === element && entry.side === side);
      if (own.every(({ state }) => state === 'whole')) return [];
      const state = own.every((entry) => entry.state === 'missing') ? 'missing' : 'broken';
      return [{ element, side, state }];
    }),
  );
}

/** Damage from several sources, each element once; the later source holds. */
export function mergeDamage(...sources: readonly (readonly RecordedDamage[])[]): RecordedDamage[] {
  const byName = new Map<string, RecordedDamage>();
  for (const one of sources.flat()) byName.set(`${one.element}/${one.side}`, one);
  return [...byName.values()];
}
