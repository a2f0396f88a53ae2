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

/** When the newest backup of BACKUP_DIR was made; `folder` says whether such a folder is set at all. */
export function readBackups(): { folder: boolean; newest: Date | null } {
  const { BACKUP_DIR } = settings();
  if (BACKUP_DIR === undefined) return { folder: false, newest: null };
  return { folder: true, newest: findNewestBackup(BACKUP_DIR) };
}

export type TroubledJob = {
  id: string;
  task: string;
  attempts: number;
  gaveUp: boolean;
  runAt: Date;
  lockedAt: Date | null;
  /** How many there are in all. */
  total: number;
};

const OFTEN = 3;
const LATE_MS = 15 * 60_000;
const LONG_MS = 4 * 3_600_000;

/**
 * Background work that needs a look: it failed for good, failed often and will be tried again, is due and nobody began
 * it for a quarter of an hour, or was begun four hours ago. The first `most`, those that failed for good first.
 */
export async function findTroubledJobs(at: Date, most: number): Promise<TroubledJob[]> {
  return db().$queryRaw<TroubledJob[]>`
    SELECT id::text, task_identifier AS task, attempts::int, attempts >= max_attempts AND locked_at IS NULL AS "gaveUp",
      run_at AS "runAt", locked_at AS "lockedAt", (count(*) OVER ())::int AS total
    FROM graphile_worker.jobs
    WHERE (locked_at IS NULL AND (attempts >= least(max_attempts, ${OFTEN}) OR run_at < ${new Date(at.getTime() - LATE_MS)}))
      OR locked_at < ${new Date(at.getTime() - LONG_MS)}
    ORDER BY "gaveUp" DESC, run_at, id LIMIT ${most}`;
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
  const { newest } = readBackups();
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
