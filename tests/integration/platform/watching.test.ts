import { beforeAll, describe, expect, it, vi } from 'vitest';
import { GET as health } from '@/app/api/health/route';
import { GET as verifyHistory } from '@/app/api/history/verify/route';
import { GET as metrics } from '@/app/api/metrics/route';
import { GET as ready } from '@/app/api/ready/route';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { RouteHandler } from '@/lib/platform/http';
import { withTx } from '@/lib/platform/tx';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

const ask = (handler: RouteHandler, path: string) =>
  handler(new Request(`http://localhost${path}`), { params: Promise.resolve({}) });
const gauge = (text: string, name: string) => Number(new RegExp(`^${name} (\\S+)$`, 'm').exec(text)?.[1]);

let collectionId: string;
beforeAll(async () => {
  collectionId = await makeCollection(db());
  signedIn.actor = await makeActor(db(), collectionId, 'administrator');
});

describe('for those who watch an installation', () => {
  it('the process runs; the database answers', async () => {
    expect((await health()).status).toBe(200);
    expect((await ready()).status).toBe(200);
  });

  it('a database that does not answer: not ready, and when to ask again; the process still runs', async () => {
    const lost = vi.spyOn(db(), '$queryRaw').mockRejectedValue(new Error('Connection terminated'));
    const answer = await ready();
    lost.mockRestore();
    expect(answer.status).toBe(503);
    expect(answer.headers.get('retry-after')).not.toBeNull();
    expect((await ready()).status).toBe(200);
  });

  it('metrics tell of waiting work and of the audit trail as they change', async () => {
    const before = await (await ask(metrics, '/api/metrics')).text();
    await withTx(contextOf(signedIn.actor as Actor), async (work) => {
      work.enqueue('queue.rank', {});
      work.audit({ kind: 'people.invited', subjectType: 'person', subjectId: collectionId, payload: {} });
    });
    const answer = await ask(metrics, '/api/metrics');
    const after = await answer.text();
    expect(answer.headers.get('content-type')).toContain('version=0.0.4');
    expect(gauge(after, 'furcula_jobs_waiting')).toBe(gauge(before, 'furcula_jobs_waiting') + 1);
    expect(gauge(after, 'furcula_audit_events_total')).toBe(gauge(before, 'furcula_audit_events_total') + 1);
    expect(after).toContain('furcula_http_requests_total{method="GET",route="api/metrics",status="200"} 1');
    expect(gauge(after, 'furcula_http_requests_running')).toBe(1);
  });

  it('an administrator asks for the proof of the audit trail', async () => {
    const answer = await ask(verifyHistory, '/api/history/verify');
    expect(await answer.json()).toMatchObject({ collectionId, ok: true, firstBad: null });
  });
});
