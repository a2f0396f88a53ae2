import { phrases, say } from '@/lib/platform/words/say';
/**
 * Every shortcut of every page: the only table of it. What listens to keys asks here which act a key means, and the
 * sheet of keys and the hints beside buttons are drawn from the same lines.
 */
export const AREAS = phrases({
  everywhere: 'Everywhere',
  review: 'Reviewing a record',
  bench: 'On a bench record',
  dictation: 'In the dictation line',
  value: 'In a field of the record',
  bones: 'On a bone of the drawing',
  box: 'On a position of the box',
  list: 'On a row of the list',
} as const);
export type Area = keyof typeof AREAS;

type Shortcut = { keys: readonly string[]; does: string; shown?: string };

/** `Mod+` is Ctrl, or Command on a Mac. `shown` stands for keys that form a row. */
export const SHORTCUTS = phrases({
  'everywhere.menu': { keys: ['Mod+k'], does: 'Find a bird, go to a page, begin a task' },
  'everywhere.keys': { keys: ['?'], does: 'Show the keys of this page' },

  'review.approve': { keys: ['a'], does: 'Approve' },
  'review.return': { keys: ['r'], does: 'Return with remarks' },
  'review.next': { keys: ['n'], does: 'Next record' },
  'review.send': { keys: ['Mod+Enter'], does: 'Send the remarks' },
  'review.read': { keys: ['Escape'], does: 'Leave the decision and look again' },

  'bench.dictation': { keys: ['F2'], does: 'Come to the dictation line' },

  'dictation.write': { keys: ['Enter'], does: 'Write what was understood' },
  'dictation.take': { keys: ['ArrowRight'], does: 'At the end of the line: take what is offered' },
  'dictation.earlier': { keys: ['ArrowUp'], does: 'Bring an earlier line back' },
  'dictation.later': { keys: ['ArrowDown'], does: 'Go to a later line' },
  'dictation.clear': { keys: ['Escape'], does: 'Empty the line' },

  'value.write': { keys: ['Enter'], does: 'Write it and go to the next' },
  'value.leave': { keys: ['Escape'], does: 'Leave it as it was; once more comes to the dictation line' },

  'bones.walk': {
    keys: ['ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight'],
    does: 'Go to the bone beside',
    shown: '↑ ↓ ← →',
  },
  'bones.select': { keys: ['Enter', ' '], does: 'Select the bone' },
  'bones.place': {
    keys: ['1', '2', '3', '4', '5', '6', '7', '8'],
    does: 'Say where it goes, as numbered in the key',
    shown: '1 – 8',
  },
  'bones.unplace': { keys: ['0'], does: 'Take its place away' },
  'bones.whole': { keys: ['w', 'W'], does: 'Whole' },
  'bones.broken': { keys: ['b', 'B'], does: 'Broken' },
  'bones.missing': { keys: ['m', 'M'], does: 'Missing' },

  'box.walk': {
    keys: ['ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight'],
    does: 'Go to the position beside',
    shown: '↑ ↓ ← →',
  },
  'box.ends': { keys: ['Home', 'End'], does: 'Go to the ends of the row' },
  'box.corners': { keys: ['Mod+Home', 'Mod+End'], does: 'Go to the first or the last position' },
  'box.column': { keys: ['PageUp', 'PageDown'], does: 'Go to the ends of the column' },
  'box.select': { keys: ['Enter', ' '], does: 'Select the position' },
  'box.lift': { keys: ['m', 'M'], does: 'Pick a vial up, and put it down' },
  'box.let-go': { keys: ['Escape'], does: 'Let go: it stays where it was' },

  'list.next': { keys: ['ArrowDown', 'j'], does: 'Next row' },
  'list.previous': { keys: ['ArrowUp', 'k'], does: 'Row before' },
  'list.first': { keys: ['Home'], does: 'First row' },
  'list.last': { keys: ['End'], does: 'Last row' },
  'list.select': { keys: [' '], does: 'Select the row, where rows can be selected' },
} as const) satisfies Record<`${Area}.${string}`, Shortcut>;

export type ShortcutId = keyof typeof SHORTCUTS;
export type ShortcutIn<A extends Area> = Extract<ShortcutId, `${A}.${string}`>;

export const shortcutOf = (id: ShortcutId): Shortcut => SHORTCUTS[id];

const IDS = Object.keys(SHORTCUTS) as ShortcutId[];
export const shortcutsIn = <A extends Area>(area: A): ShortcutIn<A>[] =>
  IDS.filter((id): id is ShortcutIn<A> => id.startsWith(`${area}.`));

/** What is asked of a key event, the browser's or React's. */
export type Pressed = { key: string; ctrlKey: boolean; metaKey: boolean; altKey: boolean };

function isPressed(wanted: string, { key, ctrlKey, metaKey, altKey }: Pressed): boolean {
  const withMod = wanted.startsWith('Mod+');
  const bare = withMod ? wanted.slice('Mod+'.length) : wanted;
  if (altKey || (ctrlKey || metaKey) !== withMod) return false;
  return bare === (withMod && key.length === 1 ? key.toLowerCase() : key);
}

/** The act that a key means in an area; null for every other key. */
export function actOf<A extends Area>(area: A, pressed: Pressed): ShortcutIn<A> | null {
  return shortcutsIn(area).find((id) => shortcutOf(id).keys.some((key) => isPressed(key, pressed))) ?? null;
}

/** Whether its key alone, without Ctrl or Command, is a sign that somebody could be writing or saying. */
export const isSingleSign = (id: ShortcutId): boolean =>
  shortcutOf(id).keys.every((key) => key.length === 1 && key !== ' ');

const NAMES: Record<string, string> = phrases({
  ArrowUp: '↑',
  ArrowDown: '↓',
  ArrowLeft: '←',
  ArrowRight: '→',
  Escape: 'Esc',
  PageUp: 'Page ↑',
  PageDown: 'Page ↓',
  ' ': 'Space',
});

/** The value of aria-keyshortcuts. */
export const ariaKeysOf = (id: ShortcutId): string =>
  shortcutOf(id)
    .keys.flatMap((key) =>
      key.startsWith('Mod+') ? [say('Control'), say('Meta')].map((mod) => key.replace('Mod', mod)) : [key],
    )
    .join(' ');

/** The key caps to draw, for each way to press it: [['Ctrl', 'K']], [['↓'], ['J']]. */
export function capsOf(id: ShortcutId, isMac = false): string[][] {
  const { keys, shown } = shortcutOf(id);
  if (shown !== undefined) return [[shown]];
  const cap = (part: string): string => {
    if (part === 'Mod') return isMac ? '⌘' : say('Ctrl');
    return NAMES[part] ?? (part.length === 1 ? part.toUpperCase() : part);
  };
  const ways = keys.map((key) => key.split('+').map(cap));
  // A letter and its capital are one key.
  return ways.filter((way, at) => ways.findIndex((other) => other.join() === way.join()) === at);
}
