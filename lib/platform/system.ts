import 'server-only';
import { findNewestBackup } from './backup-names';
import { now } from './clock';
import { db } from './db';
import { settings } from './env';
import { meter } from './meter';
import { renderMetrics } from './metrics';

const PATIENCE_MS = 2_000;

/** Whether the database answers a question within two seconds. */
export async function isReady(): Promise<boolean> {
  const late = new Promise<false>((resolve) => setTimeout(() => resolve(false), PATIENCE_MS).unref());
  const asked = db().$queryRaw`SELECT 1`.then(() => true).catch(() => false);
  return Promise.race([asked, late]);
}

type Counted = { waiting: number; failed: number; oldest: number | null; events: bigint | null };

/** This process and the installation in numbers, as text for Prometheus. */
export async function readMetrics(): Promise<string> {
  const [row] = await db().$queryRaw<Counted[]>`
    SELECT count(*) FILTER (WHERE attempts < max_attempts)::int AS waiting,
      count(*) FILTER (WHERE attempts >= max_attempts)::int AS failed,
      extract(epoch FROM now() - min(run_at) FILTER (WHERE attempts < max_attempts AND run_at <= now()))::float8 AS oldest,
      (SELECT sum(seq)::bigint FROM "AuditHead") AS events
    FROM graphile_worker.jobs`;
  const { BACKUP_DIR } = settings();
  const newest = BACKUP_DIR === undefined ? null : findNewestBackup(BACKUP_DIR);
  return renderMetrics(meter(), {
    jobsWaiting: row?.waiting ?? 0,
    jobsFailed: row?.failed ?? 0,
    oldestJobSeconds: row?.oldest ?? 0,
    auditEvents: Number(row?.events ?? 0),
    newestBackupAt: newest === null ? null : newest.getTime() / 1000,
    residentBytes: process.memoryUsage().rss,
    startedAt: now().getTime() / 1000 - process.uptime(),
  });
}
