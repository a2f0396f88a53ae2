import { db } from '@/lib/platform/db';
import { placeHoldRequest, rulingRequest } from '@/lib/salvage/schema';
import { ruleOnFind } from '@/lib/salvage/service/coverage';
import { reportFind } from '@/lib/salvage/service/report';
import { makeSlip } from '@/lib/salvage/service/slips';
import { acceptFind, placeHold, startTriage } from '@/lib/salvage/service/triage';
import type { SalvageRecord } from '@/lib/salvage/wire';
import { contextOf } from '@/seed/factories';
import { find } from '@/tests/integration/salvage/build';
import { type Examples, type Lab, need } from './lab';

const report = (lab: Lab, changes: Record<string, unknown> = {}): Promise<SalvageRecord> =>
  reportFind(contextOf(lab.as.preparator), find(lab, changes));

async function inTriage(lab: Lab, changes: Record<string, unknown> = {}): Promise<SalvageRecord> {
  const { id, version } = await report(lab, changes);
  return startTriage(contextOf(lab.as.preparator), id, { version });
}

async function accepted(lab: Lab): Promise<SalvageRecord> {
  const { id, version } = await inTriage(lab);
  return acceptFind(contextOf(lab.as.preparator), id, { version, storage: null });
}

/** A find of somebody from outside, with a telephone. */
const byFinder = (lab: Lab) =>
  report(lab, { finder: { name: 'Test finder', phone: '555 0100' }, facts: { finderRelation: 'public' } });

const hold = (record: SalvageRecord) =>
  placeHoldRequest.parse({ version: record.version, kind: 'identification', reason: 'a test' });

const ruling = (lab: Lab, { version }: SalvageRecord) =>
  rulingRequest.parse({
    version,
    verdict: 'covered',
    permitId: lab.permitId,
    cite: 'Letter of the office',
    reason: 'They said so.',
  });

/** Found before the permit began: an officer must rule. */
const uncovered = (lab: Lab) =>
  report(lab, {
    found: { earliestOn: '2022-12-27', latestOn: '2022-12-27', verbatim: '27 Dec 2022' },
    receivedOn: '2022-12-28',
  });

export const FINDS: Examples = {
  'POST api/salvage': async (lab) => ({ as: lab.as.volunteer, body: find(lab) }),
  'POST api/salvage/[id]/triage': async (lab) => {
    const { id, version } = await report(lab);
    return { as: lab.as.preparator, params: { id }, body: { version } };
  },
  'POST api/salvage/[id]/accept': async (lab) => {
    const { id, version } = await inTriage(lab);
    return { as: lab.as.preparator, params: { id }, body: { version } };
  },
  'POST api/salvage/[id]/decline': async (lab) => {
    const { id, version } = await inTriage(lab);
    return { as: lab.as.preparator, params: { id }, body: { version, reason: 'too far gone' } };
  },
  'POST api/salvage/[id]/band': async (lab) => {
    const { id, version } = await inTriage(lab, { bandNumber: '1234-56789', facts: { bandIsFederal: true } });
    return { as: lab.as.preparator, params: { id }, body: { version, reportedOn: '2024-05-03' } };
  },
  'POST api/salvage/[id]/change': async (lab) => {
    const { id, version } = await report(lab);
    const body = { version, circumstances: 'on the stairs', reason: 'the finder called' };
    return { as: lab.as.registrar, params: { id }, body };
  },
  'POST api/salvage/[id]/check': async (lab) => {
    const { id, version } = await report(lab);
    return { as: lab.as.registrar, params: { id }, body: { version } };
  },
  'POST api/salvage/[id]/custody': async (lab) => {
    const { id, version } = await accepted(lab);
    return { as: lab.as.preparator, params: { id }, body: { version, toWhom: 'Night porter' } };
  },
  'POST api/salvage/[id]/holds': async (lab) => {
    const record = await inTriage(lab);
    return { as: lab.as.preparator, params: { id: record.id }, body: hold(record) };
  },
  'POST api/salvage/[id]/holds/[holdId]/lift': async (lab) => {
    const { id, version: before } = await inTriage(lab);
    const held = await placeHold(
      contextOf(lab.as.preparator),
      id,
      hold({ version: before } as SalvageRecord),
    );
    const holdId = need(held.holdList[0], 'hold').id;
    const body = { version: held.version, reason: 'it is a robin' };
    return { as: lab.as.curator, params: { id, holdId }, body };
  },
  'POST api/salvage/[id]/ruling': async (lab) => {
    const record = await uncovered(lab);
    return { as: lab.as['permit-officer'], params: { id: record.id }, body: ruling(lab, record) };
  },
  'POST api/salvage/[id]/ruling/end': async (lab) => {
    const record = await uncovered(lab);
    const officer = contextOf(lab.as['permit-officer']);
    const ruled = await ruleOnFind(officer, record.id, ruling(lab, record));
    const body = { version: ruled.version, reason: 'too early' };
    return { as: lab.as['permit-officer'], params: { id: record.id }, body };
  },
  'POST api/salvage/[id]/finder': async (lab) => ({
    as: lab.as.registrar,
    params: { id: (await byFinder(lab)).id },
    body: {},
  }),
  'POST api/salvage/[id]/finder/change': async (lab) => {
    const { id, version } = await byFinder(lab);
    const finder = { name: 'Test finder', phone: '555 0101' };
    return { as: lab.as.registrar, params: { id }, body: { version, reason: 'a new number', finder } };
  },
  'POST api/salvage/[id]/finder/erase': async (lab) => {
    const { id, version } = await byFinder(lab);
    return { as: lab.as.registrar, params: { id }, body: { version, reason: 'asked for' } };
  },
  'POST api/salvage/[id]/finder/export': async (lab) => ({
    as: lab.as.registrar,
    params: { id: (await byFinder(lab)).id },
    body: {},
  }),
  'POST api/salvage/slips': async (lab) => ({ as: lab.as.registrar, body: { label: 'Front desk' } }),
  'POST api/salvage/slips/[id]/end': async (lab) => {
    await makeSlip(contextOf(lab.as.registrar), { label: 'Back door' });
    const { id } = await db().dropOffSlip.findFirstOrThrow({ where: { label: 'Back door' } });
    return { as: lab.as.registrar, params: { id }, body: {} };
  },
};
