import { beforeAll, describe, expect, it } from 'vitest';
import { makeAccession } from '@/lib/accessions/service';
import { amendPermitRequest } from '@/lib/permits/permit-schema';
import { amendPermit } from '@/lib/permits/service/permits';
import { db } from '@/lib/platform/db';
import { salvageTasks } from '@/lib/salvage/jobs';
import { acceptRequest, changeFindRequest, rulingRequest } from '@/lib/salvage/schema';
import { changeFind } from '@/lib/salvage/service/change';
import { endRuling, recheckFind, ruleOnFind } from '@/lib/salvage/service/coverage';
import { showFind } from '@/lib/salvage/service/reading';
import { reportFind } from '@/lib/salvage/service/report';
import { acceptFind, startTriage } from '@/lib/salvage/service/triage';
import { contextOf } from '@/seed/factories';
import { find, type Lab, makeLab } from './build';

let lab: Lab;
beforeAll(async () => {
  lab = await makeLab();
});

const log = (changes: Record<string, unknown> = {}, own: Lab = lab) =>
  reportFind(contextOf(own.as.volunteer), find(own, changes));
const on = (earliestOn: string, latestOn = earliestOn) => ({
  found: { earliestOn, latestOn, verbatim: '' },
  receivedOn: latestOn,
});
const atOneWindow = { country: 'US', stateProvince: 'OH', county: 'Franklin', locality: 'One window' };
const stranger = { facts: {}, finder: { name: 'Ada Finder', phone: '555 0100' } };

describe('verdicts are stored with their reasons', () => {
  it.each([
    ['before the permit', on('2022-06-01'), 'not-covered', 'before-effective', 'quarantine'],
    [
      'a range over its first day',
      on('2022-12-30', '2023-01-02'),
      'needs-attention',
      'dates-straddle',
      'quarantine',
    ],
    [
      'by a stranger before the general authorisation',
      stranger,
      'needs-attention',
      'finder-needs-ruling',
      'quarantine',
    ],
    [
      'out of state',
      { place: { country: 'US', stateProvince: 'Indiana', county: 'Marion', locality: 'x' } },
      'not-covered',
      'out-of-place',
      'quarantine',
    ],
    [
      'of an unknown kind',
      { taxonId: null, verbatimTaxon: 'some bird' },
      'needs-attention',
      'eagle',
      'contact-first',
    ],
  ])('%s', async (_, changes, verdict, code, hold) => {
    const made = await log(changes);
    expect(made.coverage).toBe(verdict);
    expect(made.check?.reasons.map((reason) => reason.code)).toContain(code);
    expect(made.holds).toContain(hold);
    const kept = await db().salvageRecord.findUniqueOrThrow({ where: { id: made.id } });
    expect(kept).toMatchObject({ coverage: verdict, coverageDetail: { result: { verdict } } });
  });

  it('a stranger’s bird of 2025 stands under the general authorisation, with its citation', async () => {
    const made = await log({ ...stranger, ...on('2025-05-01', '2025-05-01') });
    expect(made).toMatchObject({ coverage: 'covered', permit: null });
    expect(made.check?.authority).toMatchObject({ kind: 'general-authorisation', id: 'us-21.16' });
    expect(made.check?.reasons.some(({ cite }) => cite?.startsWith('50 CFR 21.16'))).toBe(true);
  });

  it('a finder’s name is in no reason, no event and no answer', async () => {
    const made = await log(stranger);
    const events = await db().auditEvent.findMany({ where: { subjectId: made.id } });
    for (const kept of [
      made,
      await showFind(lab.as.volunteer, made.id),
      events.map(({ payload }) => payload),
    ]) {
      expect(JSON.stringify(kept)).not.toContain('Ada Finder');
      expect(JSON.stringify(kept)).not.toContain('555 0100');
    }
  });

  it('the eleventh bird of a quota of two is not covered; one that leaves makes room', async () => {
    const own = await makeLab({
      clauses: [
        { id: 'taxa', kind: 'taxa-allowed', taxa: [{ by: 'all' }] },
        { id: 'q', kind: 'quota', taxa: [{ by: 'all' }], maximum: 2, year: { basis: 'calendar' } },
      ],
    });
    const [first, , third] = [await log({}, own), await log({}, own), await log({}, own)];
    expect(first?.permit).not.toBeNull();
    expect(third).toMatchObject({ coverage: 'not-covered', permit: null });
    expect(third?.check?.reasons.map(({ code }) => code)).toContain('quota-exceeded');
    const racing = await Promise.all([
      log(on('2025-06-01'), own),
      log(on('2025-06-01'), own),
      log(on('2025-06-01'), own),
    ]);
    expect(racing.filter(({ permit }) => permit !== null)).toHaveLength(2);
  });

  it('a quota by the permit’s year counts from its first day to its last, and no further', async () => {
    const own = await makeLab({
      clauses: [
        { id: 'taxa', kind: 'taxa-allowed', taxa: [{ by: 'all' }] },
        { id: 'q', kind: 'quota', taxa: [{ by: 'all' }], maximum: 1, year: { basis: 'permit' } },
      ],
      effectiveOn: '2023-03-01',
    });
    expect((await log(on('2024-02-29'), own)).coverage).toBe('covered');
    expect((await log(on('2023-03-01'), own)).check?.reasons.map(({ code }) => code)).toContain(
      'quota-exceeded',
    );
    expect((await log(on('2024-03-01'), own)).coverage).toBe('covered');
  });

  it('a find that may be of any day of a year belongs to no event', async () => {
    const own = await makeLab();
    const five = [];
    while (five.length < 5) five.push(await log({ place: atOneWindow }, own));
    expect(five.at(-1)?.holds).toContain('event');
    const vague = await log(
      {
        place: atOneWindow,
        found: { earliestOn: '2024-01-01', latestOn: '2024-12-31', verbatim: '2024' },
        receivedOn: '2025-01-02',
      },
      own,
    );
    expect(vague.holds).not.toContain('event');
  });
});

describe('when the law or a permit changes', () => {
  it('every find is checked again, and only what changed is told', async () => {
    const own = await makeLab();
    const [here, later] = [await log({}, own), await log(on('2024-09-01'), own)];
    await amendPermit(
      contextOf(own.as['permit-officer']),
      own.permitId,
      amendPermitRequest.parse({
        version: 1,
        effectiveOn: '2024-08-01',
        reason: 'The office excluded thrushes.',
        clauses: [
          { id: 'taxa', kind: 'taxa-allowed', taxa: [{ by: 'all' }] },
          { id: 'not', kind: 'taxa-excluded', taxa: [{ by: 'name', name: 'Turdus migratorius' }] },
        ],
      }),
    );
    const jobs = await db().$queryRaw<
      { payload: unknown }[]
    >`SELECT payload FROM graphile_worker._private_jobs
      WHERE key = ${`law-${own.collectionId}`}`;
    expect(jobs).toHaveLength(1);
    await salvageTasks['permits.law-changed'](jobs[0]?.payload);
    expect((await showFind(own.as.curator, here.id)).coverage).toBe('covered');
    const changed = await showFind(own.as.curator, later.id);
    expect(changed.coverage).toBe('not-covered');
    expect(changed.check?.reasons).toContainEqual(
      expect.objectContaining({ code: 'taxon-excluded', clauseId: 'not' }),
    );
    const told = await db().auditEvent.findMany({
      where: { collectionId: own.collectionId, kind: 'salvage.coverage-rechecked' },
    });
    expect(told.map(({ payload }) => payload)).toMatchObject([{ records: 2, changed: 1 }]);
    const before = await db().auditEvent.count();
    await salvageTasks['permits.law-changed'](jobs[0]?.payload);
    expect(await db().auditEvent.count()).toBe(before);
  });

  it('anybody in triage can ask for a check now; volunteers cannot', async () => {
    const made = await log();
    const checked = await recheckFind(contextOf(lab.as.registrar), made.id, { version: made.version });
    expect(checked.coverage).toBe('covered');
    await expect(
      recheckFind(contextOf(lab.as.volunteer), made.id, { version: made.version }),
    ).rejects.toMatchObject({ code: 'forbidden' });
  });
});

describe('an officer’s ruling', () => {
  const rule = (
    record: { id: string; version: number },
    changes: Record<string, unknown> = {},
    role: 'permit-officer' | 'curator' = 'permit-officer',
  ) =>
    ruleOnFind(
      contextOf(lab.as[role]),
      record.id,
      rulingRequest.parse({
        version: record.version,
        verdict: 'covered',
        permitId: lab.permitId,
        cite: 'Letter of the office',
        reason: 'The finder acted for us.',
        ...changes,
      }),
    );

  it('stands in the place of the verdict, counts the bird, lifts the quarantine and opens the way', async () => {
    const made = await log(stranger);
    const ruled = await rule(made);
    expect(ruled).toMatchObject({
      coverage: 'covered',
      ruled: true,
      holds: [],
      permit: { id: lab.permitId },
      ruling: { by: lab.as['permit-officer'].name, cite: 'Letter of the office' },
      check: { verdict: 'needs-attention' },
    });
    const started = await startTriage(contextOf(lab.as.preparator), ruled.id, { version: ruled.version });
    const accepted = await acceptFind(
      contextOf(lab.as.preparator),
      started.id,
      acceptRequest.parse({ version: started.version }),
    );
    const accession = await makeAccession(contextOf(lab.as.registrar), {
      kind: 'salvage',
      source: 'x',
      receivedOn: '2024-06-01',
      salvageIds: [accepted.id],
    });
    expect(accession.lots).toHaveLength(1);
  });

  it('of "not covered" holds the bird, and no accession takes it', async () => {
    const ruled = await rule(await log(), { verdict: 'not-covered', permitId: null });
    expect(ruled).toMatchObject({ coverage: 'not-covered', holds: ['legal'], permit: null });
  });

  it('ends when the facts change or it is taken back', async () => {
    const ruled = await rule(await log(stranger));
    const cause = changeFindRequest.parse({ version: ruled.version, reason: 'x', cause: 'cat' });
    const same = await changeFind(contextOf(lab.as.preparator), ruled.id, cause);
    expect(same.ruled).toBe(true);
    const dates = changeFindRequest.parse({ version: same.version, reason: 'x', ...on('2024-05-02') });
    const changed = await changeFind(contextOf(lab.as.preparator), ruled.id, dates);
    expect(changed).toMatchObject({ ruled: false, coverage: 'needs-attention' });
    const again = await rule(changed);
    const ended = await endRuling(contextOf(lab.as['permit-officer']), again.id, {
      version: again.version,
      reason: 'too early',
    });
    expect(ended).toMatchObject({ ruled: false, coverage: 'needs-attention' });
  });

  it('is the officer’s alone, and names a permit of this collection', async () => {
    const made = await log(stranger);
    await expect(rule(made, {}, 'curator')).rejects.toMatchObject({ code: 'forbidden' });
    const other = await makeLab();
    await expect(rule(made, { permitId: other.permitId })).rejects.toMatchObject({ code: 'not-found' });
  });
});
