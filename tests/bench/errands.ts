import { performance } from 'node:perf_hooks';
import { Readable } from 'node:stream';
import { setTimeout } from 'node:timers/promises';
import type { ImportRecord } from '@/lib/exchange/schema';
import { startWorker } from '@/lib/ops/worker';
import type { BenchPerson } from './person';

/** Something done now and then, once: how long it took and how much came of it. */
export type Errand = { what: string; seconds: number; note: string };

const IMPORTED = 300;
const COLUMNS = ['Species', 'Date found', 'State', 'County', 'Locality', 'Weight (g)'];
const LONGEST_S = 600;

/** Exports of the whole collection, a year's report as a page and as files, and an import, over HTTP. */
export async function runErrands(person: BenchPerson): Promise<Errand[]> {
  const reportId = await findReport(person);
  const files = [
    ['occurrence archive of the catalogue', '/api/exchange/export/occurrences'],
    ['one flat table of the catalogue', '/api/exchange/export/simple-csv'],
    ['report on a year, as JSON', `/api/reports/${reportId}`],
    ['report on a year, PDF', `/api/reports/${reportId}/pdf`],
    ['report on a year, workbook', `/api/reports/${reportId}/xlsx`],
  ] as const;
  const errands: Errand[] = [];
  for (const [what, path] of files) {
    await person.refresh();
    errands.push(await download(person, what, path));
  }
  errands.push(...(await importSheet(person)));
  for (const { what, seconds, note } of errands) console.log(`${what}: ${seconds.toFixed(1)} s, ${note}`);
  return errands;
}

async function findReport({ pool, actor }: BenchPerson): Promise<string> {
  const { rows } = await pool.query<{ id: string }>(
    `SELECT id::text FROM "PermitReport" WHERE "collectionId" = $1`,
    [actor.collectionId],
  );
  return rows[0]?.id ?? '';
}

async function download(person: BenchPerson, what: string, path: string): Promise<Errand> {
  const begun = performance.now();
  const answer = await person.fetch({ method: 'GET', path });
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  let bytes = 0;
  for await (const part of Readable.fromWeb(answer.body as never)) bytes += (part as Uint8Array).length;
  return {
    what,
    seconds: secondsSince(begun),
    note: bytes < 1e5 ? `${(bytes / 1e3).toFixed(0)} kB` : `${(bytes / 1e6).toFixed(1)} MB`,
  };
}

/** A sheet of finds: checked row by row, then taken, by a worker beside the server. */
async function importSheet(person: BenchPerson): Promise<Errand[]> {
  // What the measured writes left to do is not this errand's.
  await person.pool.query(`DELETE FROM graphile_worker._private_jobs WHERE locked_at IS NULL`);
  const worker = await startWorker(process.env.DATABASE_URL ?? '');
  try {
    const handedIn = await handIn(person);
    const fields = Object.fromEntries(
      handedIn.suggestions.flatMap(({ index, fieldId }) =>
        fieldId === null ? [] : [[String(index), fieldId]],
      ),
    );
    const at = `/api/exchange/imports/${handedIn.id}`;
    const timed = async (act: 'check' | 'run', body: object, state: string) => {
      const begun = performance.now();
      await person.ask({ method: 'POST', path: `${at}/${act}`, body });
      return { record: await waitFor(person, at, state), seconds: secondsSince(begun) };
    };
    const checked = await timed('check', { fields, defaults: { country: 'US' } }, 'checked');
    const { record, seconds } = await timed('run', {}, 'done');
    return [
      {
        what: `import of ${IMPORTED} finds, checked`,
        seconds: checked.seconds,
        note: `${checked.record.check?.ready ?? 0} may be taken`,
      },
      {
        what: `import of ${IMPORTED} finds, taken`,
        seconds,
        note: `${record.rowsDone - record.rowsFailed} taken`,
      },
    ];
  } finally {
    await worker?.stop();
  }
}

async function handIn(person: BenchPerson): Promise<ImportRecord> {
  const rows = Array.from({ length: IMPORTED }, (_, at) =>
    [
      'Turdus migratorius',
      `2024-05-${String(1 + (at % 28)).padStart(2, '0')}`,
      'Ohio',
      'Franklin',
      `Window ${at}`,
      70 + (at % 20),
    ].join(','),
  );
  const answer = await fetch(`${person.url}/api/exchange/imports?fileName=finds.csv`, {
    method: 'POST',
    headers: { ...person.headers, 'content-type': 'text/csv' },
    body: [COLUMNS.join(','), ...rows].join('\n'),
  });
  if (!answer.ok) throw new Error(`The sheet was refused: ${answer.status} ${await answer.text()}`);
  return (await answer.json()) as ImportRecord;
}

async function waitFor(person: BenchPerson, path: string, state: string): Promise<ImportRecord> {
  const begun = performance.now();
  while (secondsSince(begun) < LONGEST_S) {
    const record = await person.ask<ImportRecord>({ method: 'GET', path });
    if (record.state === state) return record;
    if (record.state === 'failed')
      throw new Error(`The import failed: ${record.failure ?? 'no reason kept'}`);
    await setTimeout(50);
  }
  throw new Error(`The import was not ${state} in ${LONGEST_S} s.`);
}

const secondsSince = (begun: number): number => (performance.now() - begun) / 1000;
