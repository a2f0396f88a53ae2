import { beforeAll, describe, expect, it } from 'vitest';
import { makeAccession } from '@/lib/accessions/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import {
  acceptRequest,
  changeFindRequest,
  handOverRequest,
  liftHoldRequest,
  placeHoldRequest,
} from '@/lib/salvage/schema';
import { changeFind } from '@/lib/salvage/service/change';
import { handOver, reportBand } from '@/lib/salvage/service/custody';
import { showFind } from '@/lib/salvage/service/reading';
import { reportFind } from '@/lib/salvage/service/report';
import { acceptFind, declineFind, liftHold, placeHold, startTriage } from '@/lib/salvage/service/triage';
import type { SalvageRecord } from '@/lib/salvage/wire';
import { contextOf, makeTaxon } from '@/seed/factories';
import { find, type Lab, makeLab } from './build';

let lab: Lab;
beforeAll(async () => {
  lab = await makeLab();
});

const log = (changes: Record<string, unknown> = {}) =>
  reportFind(contextOf(lab.as.volunteer), find(lab, changes));
const triage = (record: SalvageRecord, as: Actor = lab.as.preparator) =>
  startTriage(contextOf(as), record.id, { version: record.version });
const accept = (
  record: SalvageRecord,
  storage: { unitId: string } | null = null,
  as: Actor = lab.as.preparator,
) => acceptFind(contextOf(as), record.id, acceptRequest.parse({ version: record.version, storage }));
const hold = (record: SalvageRecord, kind: string, as: Actor = lab.as.preparator) =>
  placeHold(
    contextOf(as),
    record.id,
    placeHoldRequest.parse({ version: record.version, kind, reason: 'a test' }),
  );
const lift = (record: SalvageRecord, as: Actor, documentReference: string | null = null) =>
  liftHold(
    contextOf(as),
    { id: record.id, holdId: record.holdList.find(({ liftedAt }) => liftedAt === null)?.id ?? '' },
    liftHoldRequest.parse({ version: record.version, reason: 'a test', documentReference }),
  );

const makeFreezer = () =>
  db().storageUnit.create({
    data: {
      collectionId: lab.collectionId,
      kind: 'freezer',
      name: 'F',
      code: `F-${Math.random()}`,
      path: 'Lab › F',
    },
  });

describe('accepting', () => {
  it('makes a bird of the same number with its carcass, in custody', async () => {
    const accepted = await accept(await triage(await log()));
    expect(accepted).toMatchObject({ state: 'accepted', bird: { state: 'in-custody' } });
    const bird = await db().bird.findUniqueOrThrow({
      where: { id: accepted.bird?.id },
      include: { materials: true },
    });
    expect(bird).toMatchObject({ number: accepted.number, taxonId: lab.robin, frozenAt: null });
    expect(bird.materials).toMatchObject([
      { kind: 'carcass', suffix: 'C', state: null, custody: 'on-shelf' },
    ]);
    const story = await db().auditEvent.findMany({ where: { birdId: bird.id } });
    expect(story.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['salvage.accepted', 'storage.material-made']),
    );
  });

  it('puts it into the freezer when a place is given', async () => {
    const unit = await makeFreezer();
    const accepted = await accept(await triage(await log()), { unitId: unit.id });
    const bird = await db().bird.findUniqueOrThrow({
      where: { id: accepted.bird?.id },
      include: { materials: { include: { placement: true } } },
    });
    expect(bird.state).toBe('in-freezer');
    expect(bird.frozenAt).not.toBeNull();
    expect(bird.materials[0]?.placement?.unitId).toBe(unit.id);
  });

  it('keeps a nest or a clutch as another kind of material', async () => {
    const place = { ...find(lab).place };
    const facts = { ...find(lab).facts, nestInactive: true };
    const clauses = await db().permit.findUniqueOrThrow({ where: { id: lab.permitId } });
    expect(clauses.version).toBe(1);
    const logged = await log({ specimenType: 'feathers', quantity: 4, place, facts });
    const accepted = await accept(await triage(logged));
    const material = await db().material.findFirstOrThrow({ where: { birdId: accepted.bird?.id } });
    expect(material).toMatchObject({ kind: 'other', suffix: 'X1', description: 'feathers' });
  });

  it('waits for triage, for holds and for an authority; then happens once', async () => {
    const logged = await log();
    await expect(accept(logged)).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('Begin triage'),
    });
    const held = await hold(await triage(logged), 'disease');
    expect(held.state).toBe('on-hold');
    await expect(accept(held)).rejects.toMatchObject({ message: expect.stringContaining('on hold') });
    const free = await lift(held, lab.as.curator);
    expect(free.state).toBe('in-triage');
    const both = await Promise.allSettled([accept(free), accept(free)]);
    expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(await db().bird.count({ where: { salvageId: logged.id } })).toBe(1);
    const abroad = await log({ place: { ...find(lab).place, stateProvince: 'Indiana', county: '' } });
    expect(abroad).toMatchObject({ coverage: 'not-covered', holds: ['quarantine'] });
    const waiting = await triage(abroad);
    expect(waiting).toMatchObject({ state: 'on-hold', abilities: { accept: false } });
  });

  it('is not for volunteers, and a stale version is told what stands', async () => {
    const started = await triage(await log());
    await expect(accept(started, null, lab.as.volunteer)).rejects.toMatchObject({ code: 'forbidden' });
    await handOver(
      contextOf(lab.as.curator),
      started.id,
      handOverRequest.parse({ version: started.version, toWhom: 'Freezer room' }),
    );
    await expect(accept(started)).rejects.toMatchObject({
      code: 'stale-version',
      data: { current: { state: 'in-triage' } },
    });
  });

  it('an officer without the right to move material may accept, but not into a place', async () => {
    const unit = await makeFreezer();
    const started = await triage(await log(), lab.as['permit-officer']);
    await expect(accept(started, { unitId: unit.id }, lab.as['permit-officer'])).rejects.toMatchObject({
      code: 'forbidden',
    });
    expect((await accept(started, null, lab.as['permit-officer'])).state).toBe('accepted');
  });

  it('lets the bird into an accession', async () => {
    const accepted = await accept(await triage(await log()));
    const made = await makeAccession(contextOf(lab.as.registrar), {
      kind: 'salvage',
      source: 'Test finder',
      receivedOn: '2024-06-01',
      salvageIds: [accepted.id],
    });
    expect(made.lots.map(({ number }) => number)).toEqual([accepted.number]);
  });
});

describe('declining', () => {
  it('needs triage and no hold that stops disposal, and can be taken up again', async () => {
    const logged = await log();
    const decline = (record: SalvageRecord) =>
      declineFind(contextOf(lab.as.curator), record.id, { version: record.version, reason: 'beyond use' });
    await expect(decline(logged)).rejects.toMatchObject({ code: 'conflict' });
    const held = await hold(await triage(logged), 'evidence', lab.as['permit-officer']);
    await expect(decline(held)).rejects.toMatchObject({ message: expect.stringContaining('stops disposal') });
    const declined = await decline(await lift(held, lab.as['permit-officer'], 'release 7'));
    expect(declined).toMatchObject({ state: 'declined', abilities: { startTriage: true } });
    expect((await triage(declined)).state).toBe('in-triage');
  });

  it('is too late for a bird that is in the book', async () => {
    const held = await hold(await accept(await triage(await log())), 'disease');
    await expect(
      declineFind(contextOf(lab.as.curator), held.id, { version: held.version, reason: 'x' }),
    ).rejects.toMatchObject({ message: expect.stringContaining('bird book') });
  });
});

describe('holds', () => {
  it('of the law are placed by the officer only, and lifted with a document', async () => {
    const started = await triage(await log());
    await expect(hold(started, 'legal', lab.as.curator)).rejects.toMatchObject({ code: 'forbidden' });
    const held = await hold(started, 'legal', lab.as['permit-officer']);
    expect(held.holdList[0]).toMatchObject({ needsDocument: true, liftedByRoles: ['permit-officer'] });
    await expect(lift(held, lab.as.curator)).rejects.toMatchObject({ code: 'forbidden' });
    await expect(lift(held, lab.as['permit-officer'])).rejects.toMatchObject({
      fields: [{ path: 'documentReference', message: expect.stringContaining('written release') }],
    });
    const free = await lift(held, lab.as['permit-officer'], 'letter of the office');
    expect(free.holdList[0]).toMatchObject({
      document: 'letter of the office',
      liftedBy: lab.as['permit-officer'].name,
    });
  });

  it('one of each kind at a time', async () => {
    const held = await hold(await log(), 'missing-data');
    await expect(hold(held, 'missing-data')).rejects.toMatchObject({ code: 'conflict' });
  });

  it('come from the check: signs of disease, a suspected kill, an eagle, each with who is told', async () => {
    const ill = await log({ diseaseSigns: true });
    expect(ill.holdList).toMatchObject([{ kind: 'disease', placedBy: null, tellWhom: expect.any(String) }]);
    expect((await log({ suspectedIllegal: true })).holds).toEqual(['evidence']);
    const eagle = await log({ taxonId: lab.eagle, verbatimTaxon: 'eagle' });
    expect(eagle).toMatchObject({ coverage: 'not-covered', holds: ['contact-first'] });
    expect(eagle.holdList[0]?.tellWhom).toContain('eagle repository');
  });

  it('a person’s lifting is respected by later checks; another name does not lift a hold of the law', async () => {
    const eagle = await log({ taxonId: lab.eagle, verbatimTaxon: 'eagle' });
    const renamed = await changeFind(
      contextOf(lab.as.preparator),
      eagle.id,
      changeFindRequest.parse({
        version: eagle.version,
        reason: 'looked again',
        taxonId: lab.robin,
        verbatimTaxon: 'robin',
      }),
    );
    expect(renamed).toMatchObject({ coverage: 'covered', holds: ['contact-first'] });
    const free = await lift(renamed, lab.as['permit-officer'], 'phone note of 3 May');
    const eagleAgain = await changeFind(
      contextOf(lab.as.preparator),
      eagle.id,
      changeFindRequest.parse({ version: free.version, reason: 'an eagle after all', taxonId: lab.eagle }),
    );
    expect(eagleAgain.holds).toEqual([]);
  });

  it('hold all five birds of one place and day, whoever found them', async () => {
    const own = await makeLab();
    const place = { ...find(own).place, locality: 'Under the same tower' };
    const ids: string[] = [];
    for (let count = 0; count < 5; count += 1) {
      const as = count % 2 === 0 ? own.as.volunteer : own.as.preparator;
      const made = await reportFind(contextOf(as), find(own, { place }));
      if (count < 4) expect(made.holds).toEqual([]);
      ids.push(made.id);
    }
    for (const id of ids) {
      const record = await showFind(own.as.curator, id);
      expect(record).toMatchObject({
        holds: ['event'],
        coverage: 'needs-attention',
        check: { groupSize: 5 },
      });
      expect(record.holdList[0]?.tellWhom).toContain('law enforcement');
    }
  });

  it('birds seen dead beside it count too', async () => {
    const made = await log({ facts: { ...find(lab).facts, othersDead: 4 } });
    expect(made.holds).toEqual(['event']);
  });
});

describe('from hand to hand', () => {
  it('takes the last hand as the first of the next step and goes forward in time', async () => {
    const logged = await log({
      receivedOn: null,
      found: { earliestOn: '2024-05-01', latestOn: '2024-05-01', verbatim: '' },
    });
    const give = (record: SalvageRecord, toWhom: string, at: string | null = null) =>
      handOver(
        contextOf(lab.as.preparator),
        record.id,
        handOverRequest.parse({ version: record.version, toWhom, at }),
      );
    const given = await give(logged, 'Freezer room');
    expect(given.custody.map(({ from, to }) => [from, to])).toEqual([
      ['the finder', lab.as.volunteer.name],
      [lab.as.volunteer.name, 'Freezer room'],
    ]);
    expect(given.custodyGaps).toEqual([]);
    await expect(give(given, 'Somebody', '2999-01-01T00:00:00Z')).rejects.toMatchObject({
      fields: [{ path: 'at' }],
    });
    await expect(give(given, 'Somebody', '2024-01-01T00:00:00Z')).rejects.toMatchObject({
      fields: [{ path: 'at' }],
    });
    await expect(give(given, 'Freezer room')).rejects.toMatchObject({ fields: [{ path: 'toWhom' }] });
  });

  it('a band is reported after it was found, and the verdict follows', async () => {
    const facts = { ...find(lab).facts, bandIsFederal: true };
    const banded = await log({ bandNumber: '1234-56789', facts });
    expect(banded).toMatchObject({ coverage: 'needs-attention', abilities: { reportBand: false } });
    const note = (reportedOn: string) =>
      reportBand(contextOf(lab.as.preparator), banded.id, { version: banded.version, reportedOn });
    await expect(note('2024-04-01')).rejects.toMatchObject({ fields: [{ path: 'reportedOn' }] });
    expect(await note('2024-05-03')).toMatchObject({ coverage: 'covered', bandReportedOn: '2024-05-03' });
  });
});

describe('a new identification after acceptance', () => {
  it('is a determination of the bird; the name it came with stays with the find', async () => {
    const warbler = await makeTaxon(db(), {
      scientificName: 'Setophaga coronata',
      commonName: 'Yellow-rumped Warbler',
    });
    const accepted = await accept(await triage(await log()));
    const renamed = await changeFind(
      contextOf(lab.as.curator),
      accepted.id,
      changeFindRequest.parse({
        version: accepted.version,
        reason: 'seen at the bench',
        taxonId: warbler,
        verbatimTaxon: 'Setophaga coronata',
      }),
    );
    expect(renamed).toMatchObject({ taxon: 'Setophaga coronata', verbatimTaxon: 'robin' });
    const bird = await db().bird.findUniqueOrThrow({
      where: { id: accepted.bird?.id },
      include: { determinations: true },
    });
    expect(bird).toMatchObject({ taxonId: warbler, determinations: [{ taxonId: warbler, current: true }] });
    expect((await db().salvageRecord.findUniqueOrThrow({ where: { id: accepted.id } })).taxonId).toBe(
      lab.robin,
    );
  });
});
