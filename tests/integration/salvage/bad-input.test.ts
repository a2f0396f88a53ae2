import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { POST as createPermit } from '@/app/api/permits/route';
import { POST as amendReport } from '@/app/api/reports/[id]/amend/route';
import { POST as explainWarnings } from '@/app/api/reports/[id]/explain/route';
import { POST as markReady } from '@/app/api/reports/[id]/ready/route';
import * as reportRoute from '@/app/api/reports/[id]/route';
import { POST as signReport } from '@/app/api/reports/[id]/sign/route';
import { POST as logFind } from '@/app/api/salvage/route';
import { listPacks } from '@/lib/permits/service/rule-packs';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { RouteHandler } from '@/lib/platform/http';
import { openReport } from '@/lib/reports/service/commands';
import type { ReportRecord } from '@/lib/reports/wire';
import { contextOf, makePermit } from '@/seed/factories';
import { find, type Lab, makeLab } from './build';

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

type Problem = { code: string; title: string; fields: { path: string; message: string }[] };

async function send(
  handler: RouteHandler,
  body: unknown,
  id = '',
): Promise<{ status: number; json: unknown }> {
  const request = new Request('http://localhost/api', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  const answer = await handler(request, { params: Promise.resolve({ id }) });
  return { status: answer.status, json: await answer.json() };
}

/** All that a command could have left behind. */
async function written() {
  const [finds, permits, reports, told] = await Promise.all([
    db().salvageRecord.count(),
    db().permit.findMany({ orderBy: { id: 'asc' } }),
    db().permitReport.findMany({ orderBy: { id: 'asc' } }),
    db().auditEvent.count(),
  ]);
  return { finds, permits, reports, told };
}

/** Sends what must be refused, and sees that the database is as it was. */
async function refused(handler: RouteHandler, body: unknown, id = ''): Promise<Problem & { status: number }> {
  const before = await written();
  const { status, json } = await send(handler, body, id);
  expect(await written()).toEqual(before);
  return { ...(json as Problem), status };
}

let lab: Lab;
beforeAll(async () => {
  lab = await makeLab();
  // The shipped rule packs are loaded at first use, whatever then becomes of the find.
  await listPacks(lab.as['permit-officer']);
});

describe('bad input through the API: a clear error, nothing written', () => {
  const place = (verbatimCoordinates: string) => ({ place: { ...find(lab).place, verbatimCoordinates } });
  const days = (earliestOn: string, latestOn: string) => ({ found: { earliestOn, latestOn, verbatim: '' } });

  it.each([
    ['30 February', () => days('2025-02-30', '2025-02-30'), 'found.earliestOn', /day that exists/],
    ['a month 13', () => days('2025-13-01', '2025-13-01'), 'found.earliestOn', /day that exists/],
    ['an interval that runs backwards', () => days('2025-03-05', '2025-03-03'), 'found', /before|after/],
    ['a day to come', () => days('2999-01-01', '2999-01-01'), 'found.latestOn', /not come yet/],
    ['the sea of another country', () => place('51.5, 2.5'), 'place.verbatimCoordinates', /in the sea/],
    ['another county', () => place('41.5, -81.7'), 'place.verbatimCoordinates', /Cuyahoga/],
    ['a latitude of 91°', () => place('91, -83'), 'place.verbatimCoordinates', /./],
  ])('a find with %s', async (_, changes, path, sentence) => {
    signedIn.actor = lab.as.volunteer;
    const body = { ...find(lab), ...changes() };
    const problem = await refused(logFind, body);
    expect(problem).toMatchObject({ status: 422, code: 'not-valid' });
    const field = problem.fields.find((one) => one.path.startsWith(path));
    expect(field?.message, JSON.stringify(problem.fields)).toMatch(sentence);
  });

  it('a permit with a quota of −1', async () => {
    signedIn.actor = lab.as['permit-officer'];
    const quota = { id: 'q', kind: 'quota', taxa: [{ by: 'all' }], year: { basis: 'calendar' } };
    const permit = {
      number: `Q-${randomUUID()}`,
      authority: 'Federal office',
      kind: 'salvage',
      jurisdiction: 'US',
      effectiveOn: '2023-01-01',
      expiresOn: '2030-12-31',
      holder: { name: 'Test museum' },
    };
    const problem = await refused(createPermit, {
      ...permit,
      clauses: [{ ...quota, maximum: -1 }],
    });
    expect(problem).toMatchObject({ status: 422, code: 'not-valid' });
    expect(problem.fields).toEqual([
      { path: 'clauses.0.maximum', message: expect.stringMatching(/below 0/) },
    ]);
    const { status } = await send(createPermit, {
      ...permit,
      clauses: [{ ...quota, maximum: 0 }],
    });
    expect(status).toBe(200);
  });
});

describe('a signed report edited through the API', () => {
  let signed: ReportRecord;

  beforeAll(async () => {
    const officer = lab.as['permit-officer'];
    signedIn.actor = officer;
    const permitId = await makePermit(db(), lab.collectionId, {
      effectiveOn: '2023-01-01',
      expiresOn: '2023-12-31',
    });
    const opened = await openReport(contextOf(officer), { permitId, onDay: '2023-05-05' });
    let record: ReportRecord = opened;
    const warningIds = record.report.warnings.map(({ id }) => id);
    if (warningIds.length > 0) {
      const body = { version: record.version, warningIds, text: 'Looked at, and so.' };
      record = (await send(explainWarnings, body, record.id)).json as ReportRecord;
    }
    record = (await send(markReady, { version: record.version }, record.id)).json as ReportRecord;
    const sign = { version: record.version, certification: true };
    signed = (await send(signReport, sign, record.id)).json as ReportRecord;
    expect(signed.state).toBe('signed');
  });

  it.each([
    ['explained anew', explainWarnings, { warningIds: ['rule-2'], text: 'other words' }],
    ['made ready again', markReady, {}],
    ['signed again', signReport, { certification: true }],
  ])('is refused when %s', async (_, handler, body) => {
    const problem = await refused(handler, { ...body, version: signed.version }, signed.id);
    expect(problem).toMatchObject({
      status: 409,
      title: 'This report is signed and frozen; amend it with a reason.',
    });
  });

  it('is refused when amended without a reason', async () => {
    const problem = await refused(amendReport, { version: signed.version, reason: ' ' }, signed.id);
    expect(problem).toMatchObject({ status: 422, code: 'not-valid' });
    expect(problem.fields.map(({ path }) => path)).toEqual(['reason']);
  });

  it('has no other way in: its address only reads', () => {
    expect(Object.keys(reportRoute)).toEqual(['GET']);
  });
});
