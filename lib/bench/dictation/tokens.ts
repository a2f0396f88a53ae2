/** Character offsets in the line, the end not included. */
export interface Span {
  start: number;
  end: number;
}

export interface Token extends Span {
  kind: 'word' | 'number' | 'fraction' | 'quoted' | 'mark';
  /** Lower case; for a quoted token its content as written. */
  text: string;
}

const HESITATIONS = new Set([
  'um',
  'umm',
  'uh',
  'uhh',
  'uhm',
  'er',
  'err',
  'erm',
  'eh',
  'ah',
  'hm',
  'hmm',
  'mm-hm',
]);

const PATTERN =
  /("(?:[^"\\]|\\[\s\S])*")|(\d+\/\d+|[¼½¾])|((?:\d+(?:[.,]\d+)*|[.,]\d+)(?:["″])?)|(\p{L}[\p{L}\p{M}'’]*)|(\S)/gu;

/** Splits a line into words, numbers, quoted text and marks; hesitations and word hyphens are dropped. */
export function tokenise(line: string): Token[] {
  const tokens: Token[] = [];
  for (const match of line.matchAll(PATTERN)) {
    const [raw, quoted, fraction, number, word] = match;
    const start = match.index;
    const end = start + raw.length;
    if (quoted !== undefined) {
      tokens.push({ kind: 'quoted', text: unquote(quoted), start, end });
    } else if (fraction !== undefined) {
      tokens.push({ kind: 'fraction', text: fraction, start, end });
    } else if (number !== undefined) {
      pushNumber(tokens, number, start);
    } else if (word !== undefined) {
      const text = word.toLowerCase().replaceAll('’', "'");
      if (!HESITATIONS.has(text)) tokens.push({ kind: 'word', text, start, end });
    } else if (!isWordHyphen(line, start)) {
      tokens.push({ kind: 'mark', text: raw, start, end });
    }
  }
  return tokens;
}

/** An inch mark that touches its number is a unit, not the start of quoted text. */
function pushNumber(tokens: Token[], raw: string, start: number): void {
  const inch = /["″]$/.test(raw);
  const end = start + raw.length - (inch ? 1 : 0);
  tokens.push({ kind: 'number', text: inch ? raw.slice(0, -1) : raw, start, end });
  if (inch) tokens.push({ kind: 'word', text: 'inch', start: end, end: end + 1 });
}

const isWordHyphen = (line: string, at: number): boolean =>
  line[at] === '-' && /\p{L}/u.test(line[at - 1] ?? '') && /\p{L}/u.test(line[at + 1] ?? '');

/** Text as a quoted token that `tokenise` reads back unchanged. */
export function quote(text: string): string {
  return `"${text.replaceAll('\\', '\\\\').replaceAll('"', '\\"')}"`;
}

const unquote = (quoted: string): string => quoted.slice(1, -1).replace(/\\([\s\S])/g, '$1');

/** The words of a phrase as the tokens of a line would carry them. */
export function phraseWords(phrase: string): string[] {
  return tokenise(phrase).map((token) => token.text);
}
