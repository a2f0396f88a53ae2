import { say } from '@/lib/platform/words/say';
import type { QueryProblem } from './schema';

/** A piece of the search box; `at` and `length` say where it stands. */
export type Token = { at: number; length: number } & (
  | { type: 'open' | 'close' | 'and' | 'or' | 'not' }
  | { type: 'phrase'; text: string }
  | { type: 'word'; text: string }
  | { type: 'field'; name: string; values: string[] }
);

const QUOTED = '"(?:[^"\\\\]|\\\\.)*"?';
const VALUE = `(?:${QUOTED}|[^\\s(),"]+)`;
const PATTERN = new RegExp(
  [
    '\\s+',
    '(?<open>\\()',
    '(?<close>\\))',
    '(?<dash>-(?=[\\p{L}\\p{N}"(♀♂]))',
    `(?<name>[A-Za-z]+):(?<list>${VALUE}(?:,${VALUE})*)`,
    `(?<quoted>${QUOTED})`,
    '(?<word>[^\\s()"]+)',
  ].join('|'),
  'gsu',
);

/** The text between quotation marks, and whether the second one is there; null when it is not quoted. */
function readQuoted(text: string): { inner: string; isClosed: boolean } | null {
  const match = /^"((?:[^"\\]|\\.)*)("?)$/su.exec(text);
  return match && { inner: (match[1] ?? '').replace(/\\(.)/gsu, '$1'), isClosed: match[2] === '"' };
}

const unquote = (text: string) => readQuoted(text)?.inner ?? text;

const JOINTS: Record<string, 'and' | 'or' | 'not'> = { and: 'and', or: 'or', not: 'not' };

/** Cuts the text of a search box into pieces. An open quotation mark reaches to the end, and is said to. */
export function tokenize(text: string): { tokens: Token[]; problems: QueryProblem[] } {
  const tokens: Token[] = [];
  const problems: QueryProblem[] = [];
  for (const match of text.matchAll(PATTERN)) {
    const { open, close, dash, name, list, quoted, word } = match.groups ?? {};
    const place = { at: match.index, length: match[0].length };
    if (open !== undefined) tokens.push({ ...place, type: 'open' });
    else if (close !== undefined) tokens.push({ ...place, type: 'close' });
    else if (dash !== undefined) tokens.push({ ...place, type: 'not' });
    else if (name !== undefined && list !== undefined) {
      const values = [...list.matchAll(new RegExp(VALUE, 'gsu'))].map(([value]) => unquote(value).trim());
      tokens.push({
        ...place,
        type: 'field',
        name: name.toLowerCase(),
        values: values.filter((value) => value !== ''),
      });
    } else if (quoted !== undefined) {
      if (!readQuoted(quoted)?.isClosed)
        problems.push({ ...place, message: say('The quotation mark is not closed.') });
      tokens.push({ ...place, type: 'phrase', text: unquote(quoted).trim() });
    } else if (word !== undefined) {
      const joint = Object.hasOwn(JOINTS, word.toLowerCase()) ? JOINTS[word.toLowerCase()] : undefined;
      tokens.push(joint === undefined ? { ...place, type: 'word', text: word } : { ...place, type: joint });
    }
  }
  return { tokens, problems };
}

/** A value as it stands in the box: quoted where it would otherwise be cut. */
export const quoteValue = (value: string): string =>
  /^[^\s(),"\\]+$/u.test(value) ? value : `"${value.replace(/["\\]/g, '\\$&')}"`;
