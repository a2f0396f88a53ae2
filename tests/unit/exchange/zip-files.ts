import { PassThrough } from 'node:stream';
import { fromBuffer } from 'yauzl';
import type { ExportBird } from '@/lib/exchange/export-types';

/** Every file of a zip as text, read with a library other than the one that wrote it. */
export function unzipTexts(zip: Buffer): Promise<Map<string, string>> {
  return new Promise((resolve, reject) => {
    const files = new Map<string, string>();
    fromBuffer(zip, { lazyEntries: true }, (error, archive) => {
      if (error) return reject(error);
      archive.on('error', reject).on('end', () => resolve(files));
      archive.on('entry', (entry) => {
        archive.openReadStream(entry, (openError, stream) => {
          if (openError) return reject(openError);
          const chunks: Buffer[] = [];
          stream.on('data', (chunk: Buffer) => chunks.push(chunk)).on('error', reject);
          stream.on('end', () => {
            files.set(entry.fileName, Buffer.concat(chunks).toString('utf8'));
            archive.readEntry();
          });
        });
      });
      archive.readEntry();
    });
  });
}

/** A stream to write to and the promise of all that was written. */
export function collect(): { out: PassThrough; bytes: Promise<Buffer> } {
  const out = new PassThrough();
  const bytes = (async () => {
    const chunks: Buffer[] = [];
    for await (const chunk of out) chunks.push(chunk as Buffer);
    return Buffer.concat(chunks);
  })();
  bytes.catch(() => undefined);
  return { out, bytes };
}

export async function* each(birds: ExportBird[]): AsyncGenerator<ExportBird> {
  yield* birds;
}
