/** Counts of this process since it started; every replica has its own. */
type Meter = {
  running: number;
  shed: number;
  /** By method, route and status. */
  requests: Map<string, { method: string; route: string; status: number; times: number }>;
  durations: Map<string, { route: string; buckets: number[]; sumSeconds: number; times: number }>;
};

/** Upper limits in seconds; what is longer counts in the sum only. */
export const BUCKETS = [0.01, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10] as const;

const holder = globalThis as unknown as { furculaMeter?: Meter };

export function meter(): Meter {
  holder.furculaMeter ??= { running: 0, shed: 0, requests: new Map(), durations: new Map() };
  return holder.furculaMeter;
}

/** Takes a request in unless `most` run already; the caller leaves when it was taken in. */
export function enter(most: number): boolean {
  const counts = meter();
  if (counts.running >= most) {
    counts.shed += 1;
    return false;
  }
  counts.running += 1;
  return true;
}

export function leave(request: { method: string; route: string; status: number; seconds: number }): void {
  const counts = meter();
  counts.running -= 1;
  const { method, route, status, seconds } = request;
  const key = `${method} ${route} ${status}`;
  const known = counts.requests.get(key) ?? { method, route, status, times: 0 };
  known.times += 1;
  counts.requests.set(key, known);
  const duration = counts.durations.get(route) ?? {
    route,
    buckets: BUCKETS.map(() => 0),
    sumSeconds: 0,
    times: 0,
  };
  duration.sumSeconds += seconds;
  duration.times += 1;
  const at = BUCKETS.findIndex((limit) => seconds <= limit);
  if (at >= 0) duration.buckets[at] = (duration.buckets[at] ?? 0) + 1;
  counts.durations.set(route, duration);
}

/** A route without what differs from record to record: 'api/loans/{id}/send', so that there are few of them. */
export function routeOf(
  url: string,
  params: Readonly<Record<string, string | string[] | undefined>>,
): string {
  const names = new Map(
    Object.entries(params).flatMap(([name, value]) =>
      (Array.isArray(value) ? value : [value]).map((part) => [part ?? '', `{${name}}`] as const),
    ),
  );
  const parts = new URL(url).pathname.split('/').filter((part) => part !== '');
  return parts.map((part) => names.get(decode(part)) ?? part).join('/');
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
