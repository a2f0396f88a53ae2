import type { Readable } from 'node:stream';
import { startDecoder, type TextEncoding } from '@/lib/exchange/decode';
import { accept, type Outcome, refuse } from '@/lib/places/public-rules';

/** A file somebody hands in; `open` gives its bytes anew at each call. */
export interface TableSource {
  name: string;
  open: () => Readable;
}

export type Delimiter = ',' | ';' | '\t' | '|';

export interface DetectedFile {
  kind: 'text' | 'workbook';
  sizeBytes: number;
  encoding: TextEncoding;
  delimiter: Delimiter;
  notes: string[];
}

const LARGEST_FILE_BYTES = 200 * 1024 * 1024;
const HEAD_BYTES = 256 * 1024;

/** First bytes of files that are no table, and what to do instead. */
const SIGNATURES: [number[], string][] = [
  [
    [0xd0, 0xcf, 0x11, 0xe0],
    'This is an old .xls workbook or one with a password. Save it as .xlsx without one, or as CSV.',
  ],
  [[0x25, 0x50, 0x44, 0x46], 'This is a PDF. Export the table as CSV or .xlsx.'],
  [[0x89, 0x50, 0x4e, 0x47], 'This is a picture, not a table.'],
  [[0xff, 0xd8, 0xff], 'This is a picture, not a table.'],
  [[0x1f, 0x8b], 'This is a compressed file. Unpack it first.'],
  [[0x7b, 0x5c, 0x72, 0x74], 'This is a text document (RTF). Export the table as CSV or .xlsx.'],
  [[0x3c, 0x68, 0x74, 0x6d], 'This is a web page. Export the table as CSV or .xlsx.'],
  [[0x3c, 0x3f, 0x78, 0x6d], 'This is XML. Export the table as CSV or .xlsx.'],
  [[0x3c, 0x21, 0x44, 0x4f], 'This is a web page. Export the table as CSV or .xlsx.'],
];

/**
 * Reads the file once and says what it is: its kind, encoding (by mark, by zero bytes, by whether all of it is
 * valid UTF-8) and divider. Refuses what is no table, is empty, or is larger than the limit.
 */
export async function detectFile(
  source: TableSource,
  largestBytes = LARGEST_FILE_BYTES,
): Promise<Outcome<DetectedFile>> {
  const utf8 = new TextDecoder('utf-8', { fatal: true });
  let valid = true;
  let sizeBytes = 0;
  const heads: Buffer[] = [];
  const stream = source.open();
  for await (const chunk of stream as AsyncIterable<Buffer>) {
    if (sizeBytes < HEAD_BYTES) heads.push(chunk);
    sizeBytes += chunk.length;
    if (sizeBytes > largestBytes) {
      stream.destroy();
      return refuse(
        'out-of-range',
        `The file is larger than ${Math.round(largestBytes / 1024 / 1024)} MB. Split it.`,
      );
    }
    if (valid) valid = decodes(utf8, chunk, true);
  }
  const head = Buffer.concat(heads).subarray(0, HEAD_BYTES);
  if (sizeBytes === 0) return refuse('empty', 'The file is empty.');
  const foreign = SIGNATURES.find(([bytes]) => bytes.every((byte, index) => head[index] === byte));
  if (foreign) return refuse('unreadable', foreign[1]);
  if (head[0] === 0x50 && head[1] === 0x4b) {
    return accept({ kind: 'workbook', sizeBytes, encoding: 'utf-8', delimiter: ',', notes: [] });
  }
  const encoding = detectEncoding(head, valid && decodes(utf8, new Uint8Array(), false));
  if (!encoding)
    return refuse('unreadable', 'This is no text: it holds zero bytes. Export the table as CSV or .xlsx.');
  return describeText(head, encoding, sizeBytes);
}

function decodes(decoder: TextDecoder, bytes: Uint8Array, stream: boolean): boolean {
  try {
    decoder.decode(bytes, { stream });
    return true;
  } catch {
    return false;
  }
}

function detectEncoding(head: Buffer, validUtf8: boolean): TextEncoding | null {
  if (head[0] === 0xff && head[1] === 0xfe) return 'utf-16le';
  if (head[0] === 0xfe && head[1] === 0xff) return 'utf-16be';
  let [evenZeros, oddZeros] = [0, 0];
  for (let index = 0; index < head.length; index += 1) {
    if (head[index] !== 0) continue;
    if (index % 2 === 0) evenZeros += 1;
    else oddZeros += 1;
  }
  const half = head.length / 2;
  if (oddZeros > half * 0.4 && evenZeros < half * 0.05) return 'utf-16le';
  if (evenZeros > half * 0.4 && oddZeros < half * 0.05) return 'utf-16be';
  if (evenZeros + oddZeros > 0) return null;
  return validUtf8 ? 'utf-8' : 'windows-1252';
}

function describeText(head: Buffer, encoding: TextEncoding, sizeBytes: number): Outcome<DetectedFile> {
  const text = startDecoder(encoding).decode(head);
  if (text.trim() === '') return refuse('empty', 'The file has no text in it.');
  const controls = text.match(/(?![\t\n\r])\p{Cc}/gu)?.length ?? 0;
  if (controls > text.length * 0.02)
    return refuse('unreadable', 'This is no text. Export the table as CSV or .xlsx.');
  const notes: string[] = [];
  if (encoding === 'windows-1252')
    notes.push('The file is not UTF-8; it was read as Western European. Check letters with accents.');
  if (encoding.startsWith('utf-16')) notes.push('The file is UTF-16.');
  return accept({ kind: 'text', sizeBytes, encoding, delimiter: detectDelimiter(text), notes });
}

/** The sign that divides the first lines into the same number of cells, at least two; a comma if none does. */
function detectDelimiter(text: string): Delimiter {
  const lines = splitOutsideQuotes(text, '\n')
    .slice(0, 30)
    .filter((line) => line.trim() !== '');
  let best: { delimiter: Delimiter; score: number } = { delimiter: ',', score: 0 };
  for (const delimiter of [',', ';', '\t', '|'] as const) {
    const counts = lines.map((line) => splitOutsideQuotes(line, delimiter).length - 1);
    const [most = 0] = [...counts].sort((a, b) => b - a);
    if (most === 0) continue;
    const usual = mode(counts.filter((count) => count > 0));
    const steady = counts.filter((count) => count === usual).length / counts.length;
    const score = steady * (1 + Math.log2(1 + usual));
    if (score > best.score) best = { delimiter, score };
  }
  return best.delimiter;
}

function mode(numbers: number[]): number {
  const counts = new Map<number, number>();
  for (const number of numbers) counts.set(number, (counts.get(number) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? 0;
}

function splitOutsideQuotes(text: string, divider: string): string[] {
  const parts: string[] = [];
  let quoted = false;
  let start = 0;
  for (let at = 0; at < text.length; at += 1) {
    if (text[at] === '"') quoted = !quoted;
    else if (!quoted && text[at] === divider) {
      parts.push(text.slice(start, at));
      start = at + 1;
    }
  }
  parts.push(text.slice(start));
  return parts;
}
