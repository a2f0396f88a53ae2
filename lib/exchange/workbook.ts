import { type Entry, fromBuffer, type ZipFile } from 'yauzl';
import { accept, type Outcome, refuse } from '@/lib/places/public-rules';

export interface WorkbookLimits {
  /** Bytes of all parts together when unpacked: a zip of a few kilobytes can hold gigabytes. */
  unpackedBytes: number;
  parts: number;
}

export const WORKBOOK_LIMITS: WorkbookLimits = { unpackedBytes: 400 * 1024 * 1024, parts: 2000 };

export interface WorkbookFacts {
  formulaCells: number;
  mergedRanges: number;
  /** Cells that hold #REF! and the like. */
  errorCells: number;
  hasMacros: boolean;
  /** Days are counted from 1904 instead of 1900. */
  date1904: boolean;
}

/**
 * Unpacks every part once, counting real bytes rather than trusting what the zip says of itself, and stops at the
 * limits; on the way it counts formulas and merged cells, so that a person can be told of them.
 */
export function inspectWorkbook(
  bytes: Buffer,
  limits: WorkbookLimits = WORKBOOK_LIMITS,
): Promise<Outcome<WorkbookFacts>> {
  return new Promise((resolve) => {
    fromBuffer(bytes, { lazyEntries: true, validateEntrySizes: true }, (error, zip) => {
      if (error) return resolve(refuse('unreadable', 'The workbook is damaged or no workbook at all.'));
      walk(zip, limits).then(resolve, () => resolve(refuse('unreadable', 'The workbook is damaged.')));
    });
  });
}

async function walk(zip: ZipFile, limits: WorkbookLimits): Promise<Outcome<WorkbookFacts>> {
  const facts: WorkbookFacts = {
    formulaCells: 0,
    mergedRanges: 0,
    errorCells: 0,
    hasMacros: false,
    date1904: false,
  };
  let [parts, unpacked, isWorkbook] = [0, 0, false];
  try {
    for (;;) {
      const entry = await nextEntry(zip);
      if (!entry) break;
      parts += 1;
      if (parts > limits.parts)
        return refuse('out-of-range', `The workbook has more than ${limits.parts} parts.`);
      if (entry.fileName === 'xl/workbook.xml') isWorkbook = true;
      if (/vbaProject/i.test(entry.fileName)) facts.hasMacros = true;
      const used = await scanEntry(zip, entry, facts, limits.unpackedBytes - unpacked);
      if (used === null) {
        const megabytes = Math.round(limits.unpackedBytes / 1024 / 1024);
        return refuse(
          'out-of-range',
          `Unpacked, the workbook is larger than ${megabytes} MB; it was not opened.`,
        );
      }
      unpacked += used;
    }
  } finally {
    zip.close();
  }
  return isWorkbook
    ? accept(facts)
    : refuse('unreadable', 'The zip file holds no workbook. Unpack it, or save the table as .xlsx.');
}

function nextEntry(zip: ZipFile): Promise<Entry | null> {
  return new Promise((resolve, reject) => {
    const settle = (done: () => void) => {
      zip.off('entry', onEntry).off('end', onEnd).off('error', onError);
      done();
    };
    const onEntry = (entry: Entry) => settle(() => resolve(entry));
    const onEnd = () => settle(() => resolve(null));
    const onError = (error: Error) => settle(() => reject(error));
    zip.on('entry', onEntry).on('end', onEnd).on('error', onError);
    zip.readEntry();
  });
}

/** Bytes of the part when unpacked; null as soon as they pass what is left. */
function scanEntry(zip: ZipFile, entry: Entry, facts: WorkbookFacts, left: number): Promise<number | null> {
  if (entry.fileName.endsWith('/')) return Promise.resolve(0);
  return new Promise((resolve, reject) => {
    zip.openReadStream(entry, (error, stream) => {
      if (error) return reject(error);
      let [count, tail] = [0, ''];
      const isSheet = /^xl\/worksheets\/[^/]+\.xml$/.test(entry.fileName);
      const isBook = entry.fileName === 'xl/workbook.xml';
      stream.on('data', (chunk: Buffer) => {
        count += chunk.length;
        if (count > left) {
          stream.destroy();
          return resolve(null);
        }
        if (!isSheet && !isBook) return;
        // A tag cut in two by the chunk is kept until its end arrives.
        const text = tail + chunk.toString('latin1');
        const cut = text.lastIndexOf('<');
        const whole = text.slice(0, cut);
        tail = text.slice(cut);
        if (isSheet) countTags(whole, facts);
        else if (/date1904="(1|true)"/.test(text)) facts.date1904 = true;
      });
      stream.on('error', reject);
      stream.on('end', () => {
        if (isSheet) countTags(tail, facts);
        resolve(count);
      });
    });
  });
}

function countTags(text: string, facts: WorkbookFacts): void {
  facts.formulaCells += text.match(/<(?:\w+:)?f[ >/]/g)?.length ?? 0;
  facts.errorCells += text.match(/<(?:\w+:)?c [^>]*t="e"/g)?.length ?? 0;
  facts.mergedRanges += text.match(/<(?:\w+:)?mergeCell /g)?.length ?? 0;
}
