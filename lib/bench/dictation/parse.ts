import {
  breaksBefore,
  type DictationContext,
  type NotUnderstoodReason,
  type Reading,
  type Sheet,
  type Understood as UnderstoodReading,
} from '@/lib/bench/dictation/sheet';
import { readCorrectedValue, readOtherSide, readStatement } from '@/lib/bench/dictation/statements';
import { type Span, type Token, tokenise } from '@/lib/bench/dictation/tokens';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

export interface UnderstoodField {
  field: FieldId;
  value: FieldValue;
  unit: string | null;
  method: string | null;
  /** What was said, as written in the line: units and words before conversion. */
  verbatim: string;
  span: Span;
  correction: boolean;
}

export interface NotUnderstood {
  span: Span;
  text: string;
  reason: NotUnderstoodReason;
}

export interface Dictation {
  understood: UnderstoodField[];
  notUnderstood: NotUnderstood[];
}

/** Beyond this a line is no longer dictation; the surplus is returned as not understood. */
export const MAX_LINE_CHARACTERS = 10_000;

const SEPARATOR_MARKS = new Set([',', '.', ';', ':', '=', '-', '–', '—', '/', '|', '!', '…']);
const PASSING_WORDS = new Set(
  "and then also the a ok okay next now so well please it's that's let's let me see here".split(' '),
);

/**
 * Reads what was dictated at the bench. Units are converted to the field's own (mm, g, %); what is not
 * understood is returned with its place and reason, never guessed and never thrown. Grammar: our own, see
 * the help card.
 */
export function parseDictation(line: string, context: DictationContext = {}): Dictation {
  const head = line.slice(0, MAX_LINE_CHARACTERS);
  const tokens = tokenise(head);
  const sheet: Sheet = { line: head, tokens, statements: tokens.map(() => null), context };
  for (let at = tokens.length - 1; at >= 0; at -= 1) sheet.statements[at] = readStatement(sheet, at);
  const result = walk(sheet);
  if (line.length > head.length) {
    const span = { start: head.length, end: line.length };
    result.notUnderstood.push({ span, text: line.slice(span.start), reason: 'too-long' });
  }
  return result;
}

function walk(sheet: Sheet): Dictation {
  const understood: UnderstoodField[] = [];
  const unknown = new UnknownText(sheet);
  let last = sheet.context.lastField;
  let at = 0;
  while (at < sheet.tokens.length) {
    const token = sheet.tokens[at];
    if (!token) break;
    const reading = readAt(sheet, at, last);
    if (reading?.ok) {
      unknown.close();
      understood.push(...fieldsOf(sheet, at, reading));
      last = reading.items.at(-1)?.field ?? last;
      at = reading.next;
    } else if (reading) {
      const next = reading.reason === 'no-value' ? at + 1 : Math.max(at + 1, reading.next);
      unknown.add(at, next, reading.reason);
      at = next;
    } else {
      if (isPassing(token)) unknown.pass(token);
      else unknown.add(at, at + 1, 'unknown-words');
      at += 1;
    }
  }
  unknown.close();
  return { understood, notUnderstood: unknown.found };
}

function readAt(sheet: Sheet, at: number, last: FieldId | undefined): Reading | null {
  const statement = sheet.statements[at] ?? null;
  if (statement?.ok) return statement;
  return readOtherSide(sheet, at, last) ?? readCorrectedValue(sheet, at, last) ?? statement;
}

const isPassing = (token: Token): boolean =>
  token.kind === 'mark'
    ? SEPARATOR_MARKS.has(token.text)
    : token.kind === 'word' && PASSING_WORDS.has(token.text);

function fieldsOf(sheet: Sheet, at: number, reading: UnderstoodReading): UnderstoodField[] {
  const span = { start: sheet.tokens[at]?.start ?? 0, end: sheet.tokens[reading.next - 1]?.end ?? 0 };
  const verbatim = sheet.line.slice(span.start, span.end);
  return reading.items.map(({ field, value, method }) => ({
    field,
    value,
    unit: FIELDS[field].unit,
    method,
    verbatim,
    span,
    correction: reading.correction,
  }));
}

/** Gathers neighbouring words that were not understood into one piece. */
class UnknownText {
  readonly found: NotUnderstood[] = [];
  private open: { span: Span; reason: NotUnderstoodReason } | null = null;

  constructor(private readonly sheet: Sheet) {}

  add(from: number, to: number, reason: NotUnderstoodReason): void {
    if (breaksBefore(this.sheet, from)) this.close();
    const start = this.sheet.tokens[from]?.start ?? 0;
    const end = this.sheet.tokens[to - 1]?.end ?? start;
    if (!this.open) this.open = { span: { start, end }, reason };
    else this.open.span.end = end;
  }

  /** A comma or semicolon ends the piece; a passing word inside it does not. */
  pass(token: Token): void {
    if (token.kind === 'mark') this.close();
  }

  close(): void {
    if (!this.open) return;
    const { span, reason } = this.open;
    this.found.push({ span, text: this.sheet.line.slice(span.start, span.end), reason });
    this.open = null;
  }
}
