import { closeDb, db } from '@/lib/platform/db';
import { openReport } from '@/lib/reports/service/commands';
import { writeReportCsv, writeReportPdf, writeReportWorkbook } from '@/lib/reports/service/files';
import { listLines, showReport } from '@/lib/reports/service/record';
import { contextOf, makeActor, makeCollection, makePermit } from '@/seed/factories';
import { makeManyBirds } from './many-birds';

/**
 * How long a report of many birds takes: its page's data and its files. By hand, on a database that may be filled:
 * `DATABASE_URL=… node --conditions=react-server --import tsx tests/bench/report-bench.ts 10000`
 */
const count = Number(process.argv[2] ?? 10_000);

/** Prints the time on the wall and this process's own: on a busy machine they differ. */
async function timed<T>(what: string, work: () => Promise<T>): Promise<T> {
  const [start, before] = [performance.now(), process.cpuUsage()];
  const result = await work();
  const { user, system } = process.cpuUsage(before);
  const wallS = (performance.now() - start) / 1000;
  process.stdout.write(
    `${what.padEnd(36)} ${wallS.toFixed(2)} s, own ${((user + system) / 1e6).toFixed(2)} s\n`,
  );
  return result;
}

async function main(): Promise<void> {
  const collectionId = await makeCollection(db());
  const officer = await makeActor(db(), collectionId, 'permit-officer');
  const permitId = await makePermit(db(), collectionId, {
    effectiveOn: '2023-01-01',
    expiresOn: '2025-12-31',
  });
  await timed(`${count} birds written`, () =>
    makeManyBirds(db(), {
      collectionId,
      permitId,
      personId: officer.personId ?? '',
      firstOn: '2023-01-02',
      count,
    }),
  );
  const context = contextOf(officer);
  const { id } = await timed('report opened', () => openReport(context, { permitId, onDay: '2024-07-01' }));
  const record = await timed('page: the report, computed', () => showReport(officer, id));
  await timed('page: its first lines', () => listLines(officer, id, { size: 50 }));
  const pdf = await timed('PDF', () => writeReportPdf(officer, id));
  await timed('PDF again', () => writeReportPdf(officer, id));
  await timed('workbook', () => writeReportWorkbook(officer, id));
  await timed('CSV', () => writeReportCsv(officer, id));
  process.stdout.write(
    `${record.lineCount} lines, ${record.report.warnings.length} warnings, PDF ${((pdf.body as Uint8Array).length / 1e6).toFixed(1)} MB\n`,
  );
  await closeDb();
}

void main();
