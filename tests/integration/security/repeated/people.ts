import type { JobHelpers } from 'graphile-worker';
import { exchangeTasks } from '@/lib/exchange/jobs';
import { importMapping } from '@/lib/exchange/schema';
import { checkImport, handInSheet, runImport } from '@/lib/exchange/service/imports';
import { makeApiToken } from '@/lib/exchange/service/tokens';
import { makeWebhook } from '@/lib/exchange/webhooks/service';
import { writeComment } from '@/lib/notices/service/comments';
import { invitePerson } from '@/lib/people/service';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird } from '@/seed/factories';
import { dayFromNow, type Examples, idOf, type Lab, need } from './lab';

const administrator = (lab: Lab) => contextOf(lab.as.administrator);
const HEAD = 'Freezer no,Species,Date found,State,County,Locality';
let sheets = 0;

/** Does the waiting jobs of imports, as a worker would. */
async function work(): Promise<void> {
  const jobs = await db().$queryRaw<{ id: string; task: string; payload: unknown }[]>`
    SELECT j.id::text, t.identifier AS task, j.payload FROM graphile_worker._private_jobs j
    JOIN graphile_worker._private_tasks t ON t.id = j.task_id WHERE t.identifier LIKE 'exchange.%import%' ORDER BY j.id`;
  for (const { id, task, payload } of jobs) {
    await db().$executeRaw`DELETE FROM graphile_worker._private_jobs WHERE id = ${id}::bigint`;
    await exchangeTasks[task]?.(payload, {} as JobHelpers);
  }
}

async function handIn(lab: Lab) {
  sheets += 1;
  const row = `F-${sheets},Turdus migratorius,2019-05-03,Ohio,Franklin,Library window ${sheets}`;
  const made = await handInSheet(
    contextOf(lab.as.registrar),
    'old-freezer.csv',
    new Blob([`${HEAD}\n${row}\n`]).stream(),
  );
  const fields = Object.fromEntries(
    made.suggestions.flatMap(({ index, fieldId }) => (fieldId === null ? [] : [[String(index), fieldId]])),
  );
  return { id: made.id, mapping: importMapping.parse({ fields, defaults: { country: 'US' } }) };
}

async function checked(lab: Lab): Promise<string> {
  const { id, mapping } = await handIn(lab);
  await checkImport(contextOf(lab.as.registrar), id, mapping);
  await work();
  return id;
}

const webhook = (lab: Lab, name: string) =>
  makeWebhook(administrator(lab), { name, address: 'https://test.example/told', stages: ['accessions'] });

const token = (lab: Lab) => ({
  name: 'Test feed',
  personId: idOf(lab.as.registrar),
  scopes: ['accessions.see' as const],
  expiresOn: dayFromNow(10),
});

const comment = async (lab: Lab) => {
  const { id } = await makeBird(db(), lab.collectionId);
  return writeComment(contextOf(lab.as.curator), {
    subjectType: 'bird',
    subjectId: id,
    text: 'A graft?',
    field: null,
  });
};

const told = async (lab: Lab) =>
  db().notice.create({
    data: {
      collectionId: lab.collectionId,
      personId: idOf(lab.as.curator),
      kind: 'queue.claim-ran-out',
      subjectType: 'bird',
      subjectId: (await makeBird(db(), lab.collectionId)).id,
      facts: { bird: 'TS-1' },
      announcementId: crypto.randomUUID(),
    },
  });

const somebody = async (lab: Lab): Promise<string> =>
  idOf(await makeActor(db(), lab.collectionId, 'volunteer'));

/** An act of an administrator on a volunteer of their own. */
const onSomebody = (body: object) => async (lab: Lab) => ({
  as: lab.as.administrator,
  params: { id: await somebody(lab) },
  body,
});

export const PEOPLE: Examples = {
  'POST api/exchange/imports/[id]/check': async (lab) => {
    const { id, mapping } = await handIn(lab);
    return { as: lab.as.registrar, params: { id }, body: mapping };
  },
  'POST api/exchange/imports/[id]/cancel': async (lab) => {
    const id = await checked(lab);
    await runImport(contextOf(lab.as.registrar), id);
    return { as: lab.as.registrar, params: { id }, body: {} };
  },
  'POST api/exchange/imports/[id]/run': async (lab) => ({
    as: lab.as.registrar,
    params: { id: await checked(lab) },
    body: {},
  }),
  'POST api/exchange/imports/[id]/undo': async (lab) => {
    const id = await checked(lab);
    await runImport(contextOf(lab.as.registrar), id);
    await work();
    return { as: lab.as.registrar, params: { id }, body: { reason: 'the wrong sheet' } };
  },
  'POST api/exchange/tokens': async (lab) => ({ as: lab.as.administrator, body: token(lab) }),
  'POST api/exchange/tokens/[id]/revoke': async (lab) => {
    const { row } = await makeApiToken(administrator(lab), token(lab));
    return { as: lab.as.administrator, params: { id: row.id }, body: { reason: 'left' } };
  },
  'POST api/exchange/webhooks': async (lab) => ({
    as: lab.as.administrator,
    body: { name: 'Feed', address: 'https://test.example/told', stages: ['loans'] },
  }),
  'POST api/exchange/webhooks/[id]/switch': async (lab) => ({
    as: lab.as.administrator,
    params: { id: (await webhook(lab, 'Switched')).row.id },
    body: { active: false, reason: 'moved' },
  }),
  'POST api/exchange/webhooks/deliveries/[id]/resend': async (lab) => {
    const { row } = await webhook(lab, 'Resent');
    const delivery = await db().webhookDelivery.create({
      data: {
        webhookId: row.id,
        seq: 1n,
        kind: 'accessions.made',
        subjectType: 'accession',
        subjectId: row.id,
        at: new Date(),
        state: 'given-up',
      },
    });
    return { as: lab.as.administrator, params: { id: delivery.id }, body: {} };
  },
  'POST api/notices/[id]/read': async (lab) => ({
    as: lab.as.curator,
    params: { id: (await told(lab)).id },
    body: { read: true },
  }),
  'POST api/notices/read-all': async (lab) => {
    const { createdAt } = await told(lab);
    return { as: lab.as.curator, body: { until: createdAt.toISOString() } };
  },
  'POST api/notices/comments': async (lab) => ({
    as: lab.as.curator,
    body: { subjectType: 'bird', subjectId: (await makeBird(db(), lab.collectionId)).id, text: 'A graft?' },
  }),
  'POST api/notices/comments/[id]/edit': async (lab) => {
    const { id, version } = await comment(lab);
    return { as: lab.as.curator, params: { id }, body: { version, text: 'No graft.' } };
  },
  'POST api/notices/comments/[id]/withdraw': async (lab) => {
    const { id, version } = await comment(lab);
    return { as: lab.as.curator, params: { id }, body: { version } };
  },
  'POST api/notices/follow': async (lab) => ({
    as: lab.as.curator,
    body: { subjectType: 'bird', subjectId: (await makeBird(db(), lab.collectionId)).id, follow: true },
  }),
  'POST api/notices/follow/birds': async (lab) => ({
    as: lab.as.curator,
    body: { birdIds: [(await makeBird(db(), lab.collectionId)).id], follow: true },
  }),
  'PUT api/notices/preferences': async (lab) => ({
    as: lab.as.curator,
    body: { rows: [{ kind: 'loans.overdue', inApp: true, mail: 'daily' }] },
  }),
  'POST api/people': async (lab) => ({
    as: lab.as.administrator,
    body: { name: 'New volunteer', email: 'new@test.example', roles: ['volunteer'] },
  }),
  'POST api/people/[id]/active': onSomebody({ active: false, reason: 'left' }),
  'POST api/people/[id]/end-sessions': onSomebody({}),
  'POST api/people/[id]/erase': async (lab) => {
    const id = await somebody(lab);
    await db().person.update({ where: { id }, data: { active: false } });
    return { as: lab.as.administrator, params: { id }, body: { reason: 'asked for' } };
  },
  'POST api/people/[id]/export': onSomebody({}),
  'POST api/people/[id]/reset-link': async (lab) => {
    const invitation = { name: 'Forgetful', email: 'forgetful@test.example', roles: ['volunteer' as const] };
    const { person } = await invitePerson(administrator(lab), invitation);
    return { as: lab.as.administrator, params: { id: need(person, 'person').id }, body: {} };
  },
  'POST api/people/[id]/reset-second-factor': async (lab) => {
    const id = await somebody(lab);
    const data = { personId: id, secret: 'sealed', confirmedAt: new Date() };
    await db().secondFactor.create({ data });
    return { as: lab.as.administrator, params: { id }, body: { reason: 'a lost phone' } };
  },
  'POST api/people/[id]/roles': onSomebody({ roles: ['preparator'], reason: 'learned it' }),
};
