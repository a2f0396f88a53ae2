import { NextRequest } from 'next/server';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { problemSchema } from '@/lib/platform/api';
import { saysDatabaseIsLost } from '@/lib/platform/lost-database';
import { enter, leave, meter, routeOf } from '@/lib/platform/meter';
import { renderMetrics } from '@/lib/platform/metrics';
import { securityHeaders } from '@/lib/platform/security-headers';
import { proxy } from '@/proxy';

const limit = vi.hoisted(() => ({ value: 2, url: undefined as string | undefined }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  const settings = () => ({
    ...real.parseSettings({ NODE_ENV: 'production', LOG_LEVEL: 'silent' }),
    MAX_REQUESTS: limit.value,
    FURCULA_URL: limit.url,
  });
  return { ...real, settings };
});
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => null }));

const { defineRoute, problemResponse } = await import('@/lib/platform/http');
const { serve } = await import('@/lib/platform/serve');
const { z } = await import('zod');

beforeEach(() => {
  const counts = meter();
  counts.running = 0;
  counts.shed = 0;
  counts.requests.clear();
  counts.durations.clear();
});

const readings = {
  jobsWaiting: 3,
  jobsFailed: 1,
  oldestJobSeconds: 12.5,
  auditEvents: 400,
  newestBackupAt: null,
  residentBytes: 1e8,
  startedAt: 1.7e9,
};

/**
 * A reader of the text exposition format 0.0.4 as its page describes it (prometheus.io/docs/instrumenting/
 * exposition_formats, from memory): a line that is none of its kinds throws.
 */
function read(text: string): Map<string, number> {
  const samples = new Map<string, number>();
  const typed = new Set<string>();
  for (const line of text.split('\n').slice(0, -1)) {
    const head = /^# (HELP|TYPE) ([a-zA-Z_:][\w:]*) (.+)$/.exec(line);
    if (head !== null) {
      if (head[1] === 'TYPE') typed.add(head[2] ?? '');
      continue;
    }
    const sample =
      /^([a-zA-Z_:][\w:]*)(\{[a-zA-Z_]\w*="(?:[^"\\\n]|\\[\\"n])*"(?:,[a-zA-Z_]\w*="(?:[^"\\\n]|\\[\\"n])*")*\})? (\S+)$/.exec(
        line,
      );
    if (sample === null) throw new Error(`no line of the format: ${line}`);
    const family = (sample[1] ?? '').replace(/_(bucket|sum|count)$/, '');
    if (!typed.has(family) && !typed.has(sample[1] ?? '')) throw new Error(`${sample[1]} has no type`);
    const key = `${sample[1]}${sample[2] ?? ''}`;
    if (samples.has(key)) throw new Error(`${key} twice`);
    samples.set(key, Number(sample[3]));
  }
  return samples;
}

describe('too many requests at once', () => {
  const turnedAway = () => problemResponse(Object.assign(new Error('x'), { code: 'ECONNREFUSED' }), 'id');
  it('as many as allowed run; the next is turned away at once with 503 and when to come again; then there is room', async () => {
    let release = () => {};
    const wait = new Promise<void>((resolve) => {
      release = resolve;
    });
    const slow = serve(async () => {
      await wait;
      return new Response('done');
    }, turnedAway);
    const ask = () => slow(new Request('http://localhost/api/slow'), { params: Promise.resolve({}) });
    const running = [ask(), ask()];
    const third = await ask();
    expect(third.status).toBe(503);
    expect(Number(third.headers.get('retry-after'))).toBeGreaterThan(0);
    expect(problemSchema.parse(await third.json()).code).toBe('unavailable');
    release();
    expect((await Promise.all(running)).map(({ status }) => status)).toEqual([200, 200]);
    expect((await ask()).status).toBe(200);
    expect(meter()).toMatchObject({ running: 0, shed: 1 });
  });

  it('a handler that throws gives its place back', async () => {
    const broken = serve(() => Promise.reject(new Error('broken')), turnedAway);
    for (let times = 0; times < 5; times += 1)
      await expect(
        broken(new Request('http://localhost/x'), { params: Promise.resolve({}) }),
      ).rejects.toThrow('broken');
    expect(meter()).toMatchObject({ running: 0, shed: 0 });
  });

  it('an address without parts of a record has no parts; one that cannot be read gives its place back', async () => {
    const fine = serve(async () => new Response('done'), turnedAway);
    const ask = (params: Promise<undefined>) => fine(new Request('http://localhost/api/plain'), { params });
    expect((await ask(Promise.resolve(undefined))).status).toBe(200);
    await expect(ask(Promise.reject(new Error('no parts')))).rejects.toThrow('no parts');
    expect(meter()).toMatchObject({ running: 0 });
    expect([...meter().requests.keys()]).toEqual(['GET api/plain 200', 'GET unknown 500']);
  });

  it('every defined route has the limit', async () => {
    limit.value = 1;
    const GET = defineRoute({
      permission: 'workspace.enter',
      response: z.object({}),
      service: async () => ({}),
    });
    const ask = () => GET(new Request('http://localhost/api/x'), { params: Promise.resolve({}) });
    expect((await ask()).status).toBe(401);
    enter(1);
    const answer = await ask();
    expect(answer.status).toBe(503);
    expect(answer.headers.get('retry-after')).not.toBeNull();
    limit.value = 2;
  });
});

describe('metrics', () => {
  it('counts by method, route and status; buckets grow to the count', () => {
    for (const [seconds, status] of [
      [0.004, 200],
      [0.2, 200],
      [20, 500],
    ] as const) {
      enter(10);
      leave({ method: 'GET', route: 'api/loans/{id}', status, seconds });
    }
    const samples = read(renderMetrics(meter(), readings));
    expect(samples.get('furcula_http_requests_total{method="GET",route="api/loans/{id}",status="200"}')).toBe(
      2,
    );
    expect(samples.get('furcula_http_requests_total{method="GET",route="api/loans/{id}",status="500"}')).toBe(
      1,
    );
    const bucket = (le: string) =>
      samples.get(`furcula_http_request_duration_seconds_bucket{route="api/loans/{id}",le="${le}"}`);
    expect(['0.01', '0.1', '0.25', '10', '+Inf'].map(bucket)).toEqual([1, 1, 2, 2, 3]);
    expect(samples.get('furcula_http_request_duration_seconds_count{route="api/loans/{id}"}')).toBe(3);
    expect(samples.get('furcula_http_request_duration_seconds_sum{route="api/loans/{id}"}')).toBeCloseTo(
      20.204,
      6,
    );
    expect(samples.get('furcula_jobs_waiting')).toBe(3);
    expect(samples.has('furcula_backup_newest_timestamp_seconds'), 'unknown is not said').toBe(false);
  });

  it('quotes whatever a label holds', () => {
    enter(10);
    leave({ method: 'GET', route: 'a"b\\c\nd', status: 404, seconds: 1 });
    const samples = read(renderMetrics(meter(), { ...readings, newestBackupAt: 1.8e9 }));
    expect(samples.get('furcula_http_requests_total{method="GET",route="a\\"b\\\\c\\nd",status="404"}')).toBe(
      1,
    );
    expect(samples.get('furcula_backup_newest_timestamp_seconds')).toBe(1.8e9);
  });

  it.each([
    ['/api/loans/0199/send', { id: '0199' }, 'api/loans/{id}/send'],
    ['/api/drop-off/a%20b', { token: 'a b' }, 'api/drop-off/{token}'],
    ['/api/x/%E0%A4%A', {}, 'api/x/%E0%A4%A'],
    ['/api/storage?q=1', {}, 'api/storage'],
  ])('%s is one route', (path, params, route) => {
    expect(routeOf(`http://localhost${path}`, params)).toBe(route);
  });
});

describe('commands from elsewhere', () => {
  const POST = defineRoute({
    permission: 'workspace.enter',
    body: z.object({}),
    response: z.object({}),
    service: async () => ({}),
  });
  const from = (origin: string | null, more: Record<string, string> = {}) =>
    POST(
      new Request('http://birds.example/api/x', {
        method: 'POST',
        body: '{}',
        headers: { host: 'birds.example', ...(origin === null ? {} : { origin }), ...more },
      }),
      { params: Promise.resolve({}) },
    );

  it.each([
    ['another site', 'https://elsewhere.example'],
    ['a site whose name begins like ours', 'https://birds.example.elsewhere.example'],
    ['another port', 'http://birds.example:8080'],
    ['a page without an origin of its own', 'null'],
  ])('%s: refused before anybody is asked who they are', async (_, origin) => {
    expect((await from(origin)).status).toBe(403);
  });

  it.each([
    ['our own page', 'http://birds.example', {}],
    [
      'our own page behind a proxy',
      'https://birds.museum.example',
      { 'x-forwarded-host': 'birds.museum.example' },
    ],
    ['a program, which sends none', null, {}],
  ])('%s: asked who they are', async (_, origin, more) => {
    expect((await from(origin, more)).status).toBe(401);
  });
});

describe('a database that is gone', () => {
  it.each([
    ['refuses connections', { code: 'ECONNREFUSED' }],
    ['is starting', { cause: { originalCode: '57P03' } }],
    ['ended the connection', new Error('Connection terminated unexpectedly')],
    [
      'as Prisma says it',
      { code: 'P2010', meta: { driverAdapterError: { cause: { kind: 'ConnectionClosed' } } } },
    ],
  ])('%s', async (_, error) => {
    expect(saysDatabaseIsLost(error)).toBe(true);
    const answer = problemResponse(error, 'id');
    expect(answer.status).toBe(503);
    expect(answer.headers.get('retry-after')).not.toBeNull();
  });

  it.each([
    ['a constraint', { code: 'P2002' }],
    ['a mistake of ours', new TypeError('x is not a function')],
    ['nothing', null],
    [
      'a circle',
      Object.assign(new Error('circle'), {
        get cause() {
          return this;
        },
      }),
    ],
  ])('not so: %s', (_, error) => {
    expect(saysDatabaseIsLost(error)).toBe(false);
    expect(problemResponse(error, 'id').status).toBe(500);
  });
});

describe('security headers', () => {
  const policyOf = (answer: Response): Map<string, string[]> =>
    new Map(
      (answer.headers.get('content-security-policy') ?? '').split('; ').map((directive) => {
        const [name = '', ...sources] = directive.split(' ');
        return [name, sources] as const;
      }),
    );
  const ask = (path: string) => proxy(new NextRequest(`http://localhost${path}`));

  it('a page runs scripts with its own nonce only, which is another each time and reaches the page', () => {
    const [first, second] = [ask('/birds'), ask('/birds')];
    const scripts = policyOf(first).get('script-src') ?? [];
    const nonce = scripts.find((source) => source.startsWith("'nonce-"))?.slice(7, -1) ?? '';
    expect(Buffer.from(nonce, 'base64').length).toBe(16);
    expect(scripts).not.toContain("'unsafe-inline'");
    expect(scripts).not.toContain("'unsafe-eval'");
    expect(first.headers.get('x-middleware-request-x-nonce')).toBe(nonce);
    expect(first.headers.get('x-middleware-request-content-security-policy')).toContain(nonce);
    expect(second.headers.get('content-security-policy')).not.toContain(nonce);
    for (const [name, sources] of [
      ['object-src', ["'none'"]],
      ['base-uri', ["'none'"]],
      ['frame-ancestors', ["'none'"]],
      ['form-action', ["'self'"]],
      ['connect-src', ["'self'"]],
    ] as const)
      expect(policyOf(first).get(name)).toEqual(sources);
  });

  it.each(['/', '/sign-in'])('%s is not sniffed, framed or told elsewhere', (path) => {
    const { headers } = ask(path);
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('x-frame-options')).toBe('DENY');
    expect(headers.get('content-security-policy')).toContain("frame-ancestors 'none'");
    expect(headers.get('referrer-policy')).toBe('same-origin');
    expect(headers.get('strict-transport-security')).toBeNull();
  });

  it.each(['/api/people/%', '/api/people/%00', '/birds/%E0%A4%A'])(
    '%s: an address that cannot be read is refused',
    async (path) => {
      const answer = ask(path);
      expect(answer.status).toBe(400);
      expect(problemSchema.parse(await answer.json()).title).toContain('address');
      expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
    },
  );

  it('asks for HTTPS ever after where the installation has it', () => {
    limit.url = 'https://birds.museum.example';
    expect(ask('/').headers.get('strict-transport-security')).toBe('max-age=31536000');
    limit.url = undefined;
  });

  it('evaluates text as code in development only', () => {
    const policy = (isDev: boolean) =>
      securityHeaders({ nonce: 'x', isDev, isHttps: false })['content-security-policy'];
    expect(policy(true)).toContain("'unsafe-eval'");
    expect(policy(false)).not.toContain("'unsafe-eval'");
  });

  it('lets the page use the camera, the place, the microphone, and a worker of its own', () => {
    const headers = securityHeaders({ nonce: 'x', isDev: false, isHttps: false });
    for (const used of ['camera', 'geolocation', 'microphone'])
      expect(headers['permissions-policy']).toContain(`${used}=(self)`);
    expect(headers['content-security-policy']).toContain("worker-src 'self'");
  });
});
