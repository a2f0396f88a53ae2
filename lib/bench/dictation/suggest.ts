import { parseDictation } from '@/lib/bench/dictation/parse';
import type { DictationContext } from '@/lib/bench/dictation/sheet';
import { SPOKEN } from '@/lib/bench/dictation/spoken';
import { FIELD_IDS, FIELDS, type FieldId } from '@/lib/bench/fields';

export interface SuggestContext extends DictationContext {
  /** Fields in the order in which this lab fills them: those of the style's steps. */
  order: readonly FieldId[];
  /** Fields that the record holds already. */
  filled: ReadonlySet<FieldId>;
}

interface Name {
  field: FieldId;
  say: string;
}

/** Every spoken name of a field; the one we print comes first for each. */
const NAMES: readonly Name[] = FIELD_IDS.flatMap((field) =>
  [...SPOKEN[field].say, ...Object.values(SPOKEN[field].sayWithMethod ?? {}).flat()].map((say) => ({
    field,
    say,
  })),
);
const MOST_WORDS = 3;

/**
 * What would go on with the line: the rest of a name or choice that was begun, else the field that comes next in the
 * order of the work. The text is to be put at the end of the line as it stands. Null when nothing is sure.
 */
export function suggestNext(line: string, context: SuggestContext): string | null {
  const begun = lastWords(line);
  if (begun.length > 0) {
    const rest = completeWord(line, begun, context);
    if (rest !== undefined) return rest;
  }
  const { understood, notUnderstood } = parseDictation(line, context);
  if (line.trim() !== '' && (understood.length === 0 || notUnderstood.length > 0)) return null;
  const last = understood.at(-1)?.field;
  const next = nextField(context, new Set(understood.map(({ field }) => field)), last);
  const name = next === null ? undefined : SPOKEN[next].say[0];
  if (name === undefined) return null;
  return `${joinAfter(line, last)}${name} `;
}

/** The last one, two and three words of the line, the longest first; empty after a blank or a figure. */
function lastWords(line: string): string[] {
  const words = /(?:[\p{L}'’]+ ){0,2}[\p{L}'’]+$/u.exec(line)?.[0].split(' ') ?? [];
  return Array.from({ length: Math.min(MOST_WORDS, words.length) }, (_, drop) => words.slice(drop).join(' '));
}

/** The rest of what was begun; null when the word may still become anything; undefined when it is whole. */
function completeWord(
  line: string,
  begun: readonly string[],
  context: SuggestContext,
): string | null | undefined {
  const places = begun.map((words) => ({
    typed: words.toLowerCase(),
    head: line.slice(0, line.length - words.length),
  }));
  for (const { typed, head } of places) {
    const asked = askedField(head);
    const option = asked && optionsOf(asked).find((say) => say.startsWith(typed) && say !== typed);
    if (option) return `${option.slice(typed.length)} `;
  }
  for (const { typed, head } of places) {
    if (askedField(head) !== null) continue;
    if (NAMES.some(({ say }) => say === typed)) return null;
    const name = isWhole(head, context) ? findName(typed, context) : null;
    if (name !== null) return `${name.slice(typed.length)} `;
  }
  return undefined;
}

const isWhole = (head: string, context: SuggestContext): boolean =>
  head.trim() === '' || parseDictation(head, context).notUnderstood.length === 0;

/** The field whose name ends this text and whose value is still to come. */
function askedField(head: string): FieldId | null {
  const text = head.trimEnd().toLowerCase();
  let best: Name | null = null;
  for (const name of NAMES) {
    const before = text.at(-name.say.length - 1);
    const ends = text.endsWith(name.say) && (before === undefined || !/[\p{L}'’]/u.test(before));
    if (ends && name.say.length > (best?.say.length ?? 0)) best = name;
  }
  return best?.field ?? null;
}

const optionsOf = (field: FieldId): string[] =>
  [...FIELDS[field].choices, ...FIELDS[field].methods].flatMap(({ say }) => say);

/** The name that begins so: of a field that comes next in the order of the work rather than of any other. */
function findName(typed: string, context: SuggestContext): string | null {
  const fitting = NAMES.filter(({ say }) => say.startsWith(typed));
  const rank = (field: FieldId): number => {
    const at = context.order.indexOf(field);
    return (
      (at === -1 ? FIELD_IDS.length + FIELD_IDS.indexOf(field) : at) + (context.filled.has(field) ? 1000 : 0)
    );
  };
  const [best] = fitting.sort((a, b) => rank(a.field) - rank(b.field));
  return best?.say ?? null;
}

const OVARIES: readonly FieldId[] = [
  'leftOvary',
  'rightOvary',
  'ovary',
  'ovaryState',
  'largestFollicleMm',
  'oviductState',
];
const TESTES: readonly FieldId[] = ['leftTestis', 'rightTestis', 'testis', 'testisColour'];

/** The next field of the order that is empty and may still be seen, beginning after the one named last. */
function nextField(
  { order, filled, lastField }: SuggestContext,
  said: ReadonlySet<FieldId>,
  last: FieldId | undefined,
): FieldId | null {
  const has = (field: FieldId) => filled.has(field) || said.has(field);
  const skipped = new Set<FieldId>();
  if (OVARIES.some(has)) for (const field of [...TESTES, 'organsSeen'] as const) skipped.add(field);
  if (TESTES.some(has)) for (const field of [...OVARIES, 'organsSeen'] as const) skipped.add(field);
  const from = order.indexOf(last ?? lastField ?? ('' as FieldId)) + 1;
  const turned = [...order.slice(from), ...order.slice(0, from)];
  return turned.find((field) => !has(field) && !skipped.has(field)) ?? null;
}

/** Free text runs on until a semicolon; after anything else a blank is enough. */
function joinAfter(line: string, last: FieldId | undefined): string {
  if (line.trim() === '' || /;\s*$/.test(line)) return /^$|\s$/.test(line) ? '' : ' ';
  const form = last === undefined ? 'number' : FIELDS[last].form;
  if (form === 'clause' || form === 'text' || form === 'items') return '; ';
  return /\s$/.test(line) ? '' : ' ';
}
