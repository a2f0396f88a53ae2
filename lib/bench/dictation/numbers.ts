import type { Token } from '@/lib/bench/dictation/tokens';

export type NumberReading = { value: number; next: number } | 'ambiguous' | null;

const SMALL: Record<string, number> = Object.fromEntries(
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'
    .split(' ')
    .map((word, value) => [word, value]),
);
const TENS: Record<string, number> = Object.fromEntries(
  'twenty thirty forty fifty sixty seventy eighty ninety'.split(' ').map((word, at) => [word, (at + 2) * 10]),
);
const SPOKEN_ZERO = new Set(['oh', 'o', 'nought', 'naught', 'zero']);
const PARTS: Record<string, number> = { half: 0.5, quarter: 0.25 };
const FRACTION_SIGNS: Record<string, number> = { '¼': 0.25, '½': 0.5, '¾': 0.75 };

const lookUp = (table: Record<string, number>, word: string | undefined): number | undefined =>
  word !== undefined && Object.hasOwn(table, word) ? table[word] : undefined;

/**
 * Reads a number, in figures or words, that starts at token `at`: "94", "71,5", ".5", "3 1/2", "ninety-four
 * point five", "one thirty one", "nine and a half". A figure with a comma before three digits ("1,250") may
 * mean a thousand or one and a quarter: it is called ambiguous rather than guessed.
 */
export function readNumber(tokens: readonly Token[], at: number): NumberReading {
  const token = tokens[at];
  if (!token) return null;
  if (token.kind === 'number') {
    const value = readFigures(token.text);
    return value === null ? 'ambiguous' : readTail(tokens, at + 1, value);
  }
  if (token.kind === 'fraction') {
    const value = readFraction(token.text);
    return value === null ? 'ambiguous' : { value, next: at + 1 };
  }
  return token.kind === 'word' ? readWords(tokens, at) : null;
}

/** Value of figures as typed; null when thousands and decimals cannot be told apart. */
export function readFigures(text: string): number | null {
  const marks = text.replace(/\d/g, '');
  if (marks === '' || marks === '.') return Number(text);
  if (marks === ',') {
    const [whole = '', part = ''] = text.split(',');
    if (part.length === 3 && whole.length <= 3 && Number(whole) > 0) return null;
    return Number(`${whole}.${part}`);
  }
  const groups = text.split(/[.,]/);
  const mixed = marks.includes('.') && marks.includes(',');
  const decimals = mixed ? groups.pop() : '';
  const separators = mixed ? marks.slice(0, -1) : marks;
  const oneSeparator = new Set(separators).size === 1 && (!mixed || marks.at(-1) !== separators[0]);
  const grouped = groups.slice(1).every((group) => group.length === 3) && (groups[0]?.length ?? 0) <= 3;
  if (!oneSeparator || !grouped || groups[0] === '') return null;
  return Number(`${groups.join('')}.${decimals || '0'}`);
}

function readFraction(text: string): number | null {
  const sign = lookUp(FRACTION_SIGNS, text);
  if (sign !== undefined) return sign;
  const [above, below] = text.split('/').map(Number);
  return above !== undefined && below ? above / below : null;
}

/** What may follow the whole part: "point five", "1/2", "and a half". */
function readTail(tokens: readonly Token[], at: number, whole: number): NumberReading {
  const token = tokens[at];
  if (Number.isInteger(whole)) {
    const dash = token?.text === '-' ? 1 : 0;
    const fraction = tokens[at + dash];
    if (fraction?.kind === 'fraction') {
      const part = readFraction(fraction.text);
      if (part !== null && part < 1) return { value: whole + part, next: at + dash + 1 };
    }
    if (token?.text === 'point' || token?.text === 'comma') {
      const digits = readDecimals(tokens, at + 1);
      if (digits) return { value: Number(`${whole}.${digits.text}`), next: digits.next };
    }
    if (token?.text === 'and') {
      const part = readSpokenPart(tokens, at + 1);
      if (part) return { value: whole + part.value, next: part.next };
    }
  }
  return { value: whole, next: at };
}

/** "a half", "half", "a quarter", "three quarters". */
export function readSpokenPart(tokens: readonly Token[], at: number): { value: number; next: number } | null {
  const first = tokens[at]?.text;
  const start = first === 'a' || first === 'one' ? at + 1 : at;
  const part = lookUp(PARTS, tokens[start]?.text);
  if (part !== undefined) return { value: part, next: start + 1 };
  return first === 'three' && tokens[at + 1]?.text === 'quarters' ? { value: 0.75, next: at + 2 } : null;
}

function readDecimals(tokens: readonly Token[], at: number): { text: string; next: number } | null {
  const token = tokens[at];
  if (token?.kind === 'number' && /^\d+$/.test(token.text)) return { text: token.text, next: at + 1 };
  let text = '';
  let next = at;
  for (let digit = readDigit(tokens[next]); digit !== null; digit = readDigit(tokens[next])) {
    text += digit;
    next += 1;
  }
  if (text !== '') return { text, next };
  const below = readBelowHundred(tokens, at);
  return below && below.value >= 10 ? { text: String(below.value), next: below.next } : null;
}

/** One spoken or written digit, as in moult scores; null for anything else. */
export function readDigit(token: Token | undefined): string | null {
  if (!token) return null;
  if (token.kind === 'number') return /^\d$/.test(token.text) ? token.text : null;
  if (SPOKEN_ZERO.has(token.text)) return '0';
  const value = lookUp(SMALL, token.text);
  return value !== undefined && value < 10 ? String(value) : null;
}

function readBelowHundred(tokens: readonly Token[], at: number): { value: number; next: number } | null {
  const word = tokens[at]?.kind === 'word' ? tokens[at]?.text : undefined;
  const small = lookUp(SMALL, word);
  if (small !== undefined) return { value: small, next: at + 1 };
  const tens = lookUp(TENS, word);
  if (tens === undefined) return null;
  const unit = lookUp(SMALL, tokens[at + 1]?.text);
  return unit !== undefined && unit > 0 && unit < 10
    ? { value: tens + unit, next: at + 2 }
    : { value: tens, next: at + 1 };
}

/** "one hundred and four", "one oh four", "one thirty one". */
function readBelowThousand(tokens: readonly Token[], at: number): { value: number; next: number } | null {
  const hundredNext = tokens[at]?.text === 'a' && tokens[at + 1]?.text === 'hundred';
  const head = hundredNext ? { value: 1, next: at + 1 } : readBelowHundred(tokens, at);
  if (!head) return null;
  if (tokens[head.next]?.text === 'hundred') {
    const and = tokens[head.next + 1]?.text === 'and' ? 1 : 0;
    const rest = readBelowHundred(tokens, head.next + 1 + and);
    const whole = head.value * 100;
    return rest ? { value: whole + rest.value, next: rest.next } : { value: whole, next: head.next + 1 };
  }
  if (head.value < 1 || head.value > 9) return head;
  const middle = tokens[head.next]?.text ?? '';
  const last = readDigit(tokens[head.next + 1]);
  if ((middle === 'oh' || middle === 'o') && last !== null) {
    return { value: head.value * 100 + Number(last), next: head.next + 2 };
  }
  const pair = readBelowHundred(tokens, head.next);
  return pair && pair.value >= 10 ? { value: head.value * 100 + pair.value, next: pair.next } : head;
}

function readWords(tokens: readonly Token[], at: number): NumberReading {
  if (tokens[at]?.text === 'point') {
    const digits = readDecimals(tokens, at + 1);
    return digits ? { value: Number(`0.${digits.text}`), next: digits.next } : null;
  }
  const part = readSpokenPart(tokens, at);
  if (part) return part;
  const head = readBelowThousand(tokens, at);
  if (!head) return null;
  if (tokens[head.next]?.text !== 'thousand') return readTail(tokens, head.next, head.value);
  const and = tokens[head.next + 1]?.text === 'and' ? 1 : 0;
  const rest = readBelowThousand(tokens, head.next + 1 + and);
  const whole = head.value * 1000;
  return readTail(tokens, rest?.next ?? head.next + 1, whole + (rest?.value ?? 0));
}
