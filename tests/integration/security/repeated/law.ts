import { makeAccession } from '@/lib/accessions/service';
import usFederal from '@/lib/permits/packs/us-federal.json';
import { showPermit } from '@/lib/permits/service/permits';
import { listPacks, showPack } from '@/lib/permits/service/rule-packs';
import { decideStatus, listDecisions } from '@/lib/permits/service/status-lists';
import { addPlace } from '@/lib/places/service';
import { db } from '@/lib/platform/db';
import { explainWarnings, markReportReady, openReport, signReport } from '@/lib/reports/service/commands';
import type { ReportRecord } from '@/lib/reports/wire';
import { contextOf, makePermit, makeSalvage, makeTaxon } from '@/seed/factories';
import { type Examples, type Lab, need } from './lab';

const officer = (lab: Lab) => lab.as['permit-officer'];

/** A permit of which the year 2024 is to be reported. */
async function makeReportedPermit({ collectionId }: Lab): Promise<string> {
  const permitId = await makePermit(db(), collectionId, { number: `RP/${crypto.randomUUID().slice(0, 8)}` });
  const year = { basis: 'calendar' };
  const due = { rule: 'month-day', monthDay: '01-31' };
  await db().permit.update({
    where: { id: permitId },
    data: { clauses: [{ id: '7', kind: 'report-due', year, due }] },
  });
  return permitId;
}

async function open(lab: Lab): Promise<ReportRecord> {
  const permitId = await makeReportedPermit(lab);
  const days = { foundOn: '2024-04-03', receivedOn: '2024-04-04' };
  const { id } = await makeSalvage(db(), lab.collectionId, { permitId, ...days });
  // A warning, for somebody to explain.
  await db().salvageRecord.update({ where: { id }, data: { county: '' } });
  return openReport(contextOf(officer(lab)), { permitId, onDay: '2024-06-01' });
}

async function ready(lab: Lab, opened: ReportRecord): Promise<ReportRecord> {
  let current = opened;
  for (const { id } of opened.report.warnings)
    current = await explainWarnings(contextOf(officer(lab)), current.id, {
      version: current.version,
      warningIds: [id],
      text: 'Looked up.',
    });
  return current;
}

async function makeReady(lab: Lab): Promise<ReportRecord> {
  const explained = await ready(lab, await open(lab));
  return markReportReady(contextOf(officer(lab)), explained.id, { version: explained.version });
}

const place = (name: string) => ({ name, country: 'US', stateProvince: 'Ohio', county: 'Franklin' });

async function unverifiedRule(lab: Lab): Promise<{ packId: string; ruleId: string }> {
  const [pack] = (await listPacks(officer(lab))).rows;
  const packId = need(pack, 'rule pack').id;
  const { list } = await showPack(officer(lab), packId);
  return {
    packId,
    ruleId: need(
      list.find(({ unverified }) => unverified),
      'unverified rule',
    ).id,
  };
}

const decision = { name: 'Pica pica', jurisdiction: 'US', cite: 'Letter 12', reason: 'Another name.' };

const clauses = [{ id: 'taxa', kind: 'taxa-allowed', taxa: [{ by: 'all' }] }];

export const LAW: Examples = {
  'POST api/accessions': async (lab) => ({
    as: lab.as.registrar,
    body: {
      kind: 'salvage',
      source: 'Test donors',
      receivedOn: '2025-05-01',
      salvageIds: [(await makeSalvage(db(), lab.collectionId)).id],
    },
  }),
  'POST api/accessions/[id]/change': async (lab) => {
    const made = await makeAccession(contextOf(lab.as.registrar), {
      kind: 'salvage',
      source: 'Test donors',
      receivedOn: '2025-05-01',
      salvageIds: [(await makeSalvage(db(), lab.collectionId)).id],
    });
    return {
      as: lab.as.registrar,
      params: { id: made.id },
      body: { version: made.version, remarks: 'Came in two bags.', reason: 'forgotten' },
    };
  },
  'POST api/permits': async (lab) => ({
    as: officer(lab),
    body: {
      number: 'SV-repeated',
      authority: 'Federal office',
      kind: 'salvage',
      jurisdiction: 'US',
      effectiveOn: '2023-01-01',
      expiresOn: '2030-12-31',
      holder: { name: 'Test museum' },
      clauses,
    },
  }),
  'POST api/permits/[id]/amend': async (lab) => {
    const id = await makePermit(db(), lab.collectionId);
    const { version } = await showPermit(officer(lab), id);
    const body = { version, effectiveOn: '2025-03-01', reason: 'longer', expiresOn: '2028-12-31' };
    return { as: officer(lab), params: { id }, body };
  },
  'POST api/permits/[id]/correct': async (lab) => {
    const id = await makePermit(db(), lab.collectionId);
    const { version } = await showPermit(officer(lab), id);
    return {
      as: officer(lab),
      params: { id },
      body: { version, reason: 'a slip', authority: 'State office' },
    };
  },
  'POST api/permits/[id]/renew': async (lab) => ({
    as: officer(lab),
    params: { id: await makePermit(db(), lab.collectionId) },
    body: { number: 'TP-renewed', effectiveOn: '2028-01-01', expiresOn: '2030-12-31' },
  }),
  'POST api/permits/decisions': async (lab) => ({ as: officer(lab), body: decision }),
  'POST api/permits/decisions/[id]/withdraw': async (lab) => {
    await decideStatus(contextOf(officer(lab)), { ...decision, name: 'Pica hudsonia' });
    const { rows } = await listDecisions(officer(lab));
    const id = need(
      rows.find(({ name }) => name === 'Pica hudsonia'),
      'decision',
    ).id;
    return { as: officer(lab), params: { id }, body: { reason: 'The letter was taken back.' } };
  },
  'POST api/permits/lists': async (lab) => ({
    as: officer(lab),
    body: {
      listId: 'us-10.13',
      title: 'A list for this test',
      jurisdiction: 'US',
      effect: 'protects',
      source: 'written here',
      edition: 'repeated',
      editionOn: '2020-04-16',
      csv: 'scientific_name_listed\nTurdus migratorius\n',
    },
  }),
  'POST api/permits/rule-packs': async (lab) => ({
    as: officer(lab),
    body: { fileName: 'next.json', text: JSON.stringify({ ...usFederal, version: '9.1.0' }) },
  }),
  'POST api/permits/rule-packs/[id]/active': async (lab) => ({
    as: officer(lab),
    params: { id: (await unverifiedRule(lab)).packId },
    body: { active: false, reason: 'a mistake in it' },
  }),
  'POST api/permits/rule-packs/[id]/confirm': async (lab) => {
    const { packId, ruleId } = await unverifiedRule(lab);
    return { as: officer(lab), params: { id: packId }, body: { ruleId, confirmed: true, note: 'Read.' } };
  },
  'POST api/places': async (lab) => ({ as: lab.as.registrar, body: place('Hollow Pike') }),
  'POST api/places/[id]/change': async (lab) => {
    const made = await addPlace(contextOf(lab.as.registrar), {
      ...place('Marl pits'),
      written: null,
      remarks: null,
    });
    return {
      as: lab.as.registrar,
      params: { id: made.id },
      body: { ...place('Old marl pits'), active: true, version: made.version, reason: 'renamed' },
    };
  },
  'POST api/places/read': async (lab) => ({ as: lab.as.registrar, body: { coordinates: '39.96 N 83.00 W' } }),
  'POST api/reports': async (lab) => ({
    as: officer(lab),
    body: { permitId: await makeReportedPermit(lab), onDay: '2024-06-01' },
  }),
  'POST api/reports/[id]/explain': async (lab) => {
    const { id, version, report } = await open(lab);
    const warningIds = [need(report.warnings[0], 'warning').id];
    return { as: officer(lab), params: { id }, body: { version, warningIds, text: 'Looked up.' } };
  },
  'POST api/reports/[id]/ready': async (lab) => {
    const { id, version } = await ready(lab, await open(lab));
    return { as: officer(lab), params: { id }, body: { version } };
  },
  'POST api/reports/[id]/sign': async (lab) => {
    const { id, version } = await makeReady(lab);
    return { as: officer(lab), params: { id }, body: { version, certification: true } };
  },
  'POST api/reports/[id]/amend': async (lab) => {
    const { id, version } = await makeReady(lab);
    const signed = await signReport(contextOf(officer(lab)), id, { version });
    return { as: officer(lab), params: { id }, body: { version: signed.version, reason: 'a bird more' } };
  },
  'POST api/taxa/[id]/sensitivity': async (lab) => ({
    as: lab.as.curator,
    params: { id: await makeTaxon(db(), { scientificName: 'Asio otus' }) },
    body: { sensitive: true, reason: 'roosts are disturbed' },
  }),
  'POST api/taxa/checklists/[id]/make-current': async (lab) => {
    const next = await db().checklist.create({
      data: { name: 'Test list', edition: '2', credit: 'invented', state: 'ready' },
    });
    const taxa = await db().taxon.findMany({ where: { checklist: { current: true } } });
    await db().taxon.createMany({
      data: taxa.map(({ scientificName, rank, genus }) => ({
        checklistId: next.id,
        scientificName,
        rank,
        genus,
      })),
    });
    return { as: lab.as.curator, params: { id: next.id }, body: { reason: 'new edition', decisions: [] } };
  },
};
