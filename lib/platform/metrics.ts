import { BUCKETS, type meter } from './meter';

type Sample = { labels?: Record<string, string>; value: number; suffix?: string };
type Family = { name: string; kind: 'counter' | 'gauge' | 'histogram'; help: string; samples: Sample[] };

/** What the database and the machine say beside the counts of the process. Instants in seconds since 1970. */
export type Readings = {
  jobsWaiting: number;
  jobsFailed: number;
  oldestJobSeconds: number;
  auditEvents: number;
  newestBackupAt: number | null;
  residentBytes: number;
  startedAt: number;
};

/** Everything as Prometheus reads it: text exposition format 0.0.4 (prometheus.io/docs/instrumenting/exposition_formats). */
export function renderMetrics(counts: ReturnType<typeof meter>, readings: Readings): string {
  return families(counts, readings).map(renderFamily).join('');
}

function families(counts: ReturnType<typeof meter>, readings: Readings): Family[] {
  const one = (name: string, kind: 'counter' | 'gauge', help: string, value: number | null): Family => ({
    name,
    kind,
    help,
    samples: value === null ? [] : [{ value }],
  });
  const all: Family[] = [
    {
      name: 'furcula_http_requests_total',
      kind: 'counter',
      help: 'Requests answered by this process.',
      samples: [...counts.requests.values()].map(({ method, route, status, times }) => ({
        labels: { method, route, status: String(status) },
        value: times,
      })),
    },
    {
      name: 'furcula_http_request_duration_seconds',
      kind: 'histogram',
      help: 'How long answers took.',
      samples: [...counts.durations.values()].flatMap(histogram),
    },
    one('furcula_http_requests_running', 'gauge', 'Requests being answered now.', counts.running),
    one(
      'furcula_http_requests_shed_total',
      'counter',
      'Requests turned away because too many ran.',
      counts.shed,
    ),
    one('furcula_jobs_waiting', 'gauge', 'Background work that is due or will be.', readings.jobsWaiting),
    one('furcula_jobs_failed', 'gauge', 'Background work that failed for good.', readings.jobsFailed),
    one(
      'furcula_jobs_oldest_seconds',
      'gauge',
      'How long the oldest due work has waited.',
      readings.oldestJobSeconds,
    ),
    one('furcula_audit_events_total', 'counter', 'Events of all audit chains.', readings.auditEvents),
    one(
      'furcula_backup_newest_timestamp_seconds',
      'gauge',
      'When the newest backup was made.',
      readings.newestBackupAt,
    ),
    one('process_resident_memory_bytes', 'gauge', 'Memory of this process.', readings.residentBytes),
    one('process_start_time_seconds', 'gauge', 'When this process started.', readings.startedAt),
  ];
  return all.filter(({ samples }) => samples.length > 0);
}

function histogram(duration: {
  route: string;
  buckets: number[];
  sumSeconds: number;
  times: number;
}): Sample[] {
  const { route } = duration;
  let upTo = 0;
  const buckets = BUCKETS.map((limit, index) => {
    upTo += duration.buckets[index] ?? 0;
    return { suffix: '_bucket', labels: { route, le: String(limit) }, value: upTo };
  });
  return [
    ...buckets,
    { suffix: '_bucket', labels: { route, le: '+Inf' }, value: duration.times },
    { suffix: '_sum', labels: { route }, value: duration.sumSeconds },
    { suffix: '_count', labels: { route }, value: duration.times },
  ];
}

function renderFamily({ name, kind, help, samples }: Family): string {
  const lines = samples.map(({ suffix = '', labels = {}, value }) => {
    const inside = Object.entries(labels).map(([label, text]) => `${label}="${escapeLabel(text)}"`);
    return `${name}${suffix}${inside.length === 0 ? '' : `{${inside.join(',')}}`} ${value}\n`;
  });
  return `# HELP ${name} ${help}\n# TYPE ${name} ${kind}\n${lines.join('')}`;
}

const escapeLabel = (text: string): string =>
  text.replaceAll('\\', '\\\\').replaceAll('"', '\\"').replaceAll('\n', '\\n');
