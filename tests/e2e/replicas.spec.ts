import { randomUUID } from 'node:crypto';
import { expect, test } from '@playwright/test';
import { Client } from 'pg';
import type { OwnedProcess } from '../../lib/ops/processes';
import { signInAs } from './people';
import { type Answer, Person } from './replica-person';
import { kill, type Replica, startReplica, startWorker } from './replicas';
import { BY, RoundRobin, TO } from './round-robin';

/** Three processes of one installation behind a proxy, of which the first is the one all journeys use. */
test.describe.configure({ mode: 'serial' });

type Find = { id: string; number: string; version: number };

let replicas: Replica[] = [];
let workers: OwnedProcess[] = [];
let two: RoundRobin;
let three: RoundRobin;
let database: Client;

test.beforeAll(async () => {
  test.setTimeout(120_000);
  database = new Client({ connectionString: process.env.FURCULA_E2E_DATABASE_URL });
  await database.connect();
  replicas = await Promise.all([startReplica(), startReplica()]);
  const ports = [
    Number(new URL(process.env.FURCULA_E2E_URL ?? '').port),
    ...replicas.map(({ port }) => port),
  ];
  two = await RoundRobin.before(ports.slice(0, 2));
  three = await RoundRobin.before(ports);
});

test.afterAll(async () => {
  two.close();
  three.close();
  await Promise.all([...replicas.map((one) => one.process), ...workers].map((owned) => owned.stop(5_000)));
  await database.end();
});

const find = (locality: string) => ({
  requestKey: randomUUID(),
  found: { earliestOn: '2026-05-01', latestOn: '2026-05-01', verbatim: '1 May 2026' },
  receivedOn: '2026-05-02',
  place: { country: 'US', stateProvince: 'Ohio', county: 'Franklin', locality },
  verbatimTaxon: 'robin',
  cause: 'window-strike',
});

const count = async (sql: string, ...values: unknown[]): Promise<number> =>
  Number((await database.query<{ n: string }>(`SELECT count(*) AS n FROM ${sql}`, values)).rows[0]?.n);

/** Numbers given out and numbers carried, of each kind that these tests take. */
async function expectNumbersWithoutGap(): Promise<void> {
  const { rows } = await database.query<{ kind: string; given: number; carried: number }>(
    `SELECT kind, sum(next - 1)::int AS given, CASE kind
       WHEN 'salvage' THEN (SELECT count(DISTINCT number)::int FROM "SalvageRecord")
       ELSE (SELECT count(DISTINCT number)::int FROM "Accession") END AS carried
     FROM "NumberSequence" WHERE kind IN ('salvage', 'accession') GROUP BY kind ORDER BY kind`,
  );
  expect(rows.map(({ kind }) => kind)).toEqual(['accession', 'salvage']);
  for (const { kind, given, carried } of rows) expect({ kind, given }).toEqual({ kind, given: carried });
}

function expectAlike(answers: readonly Answer[]): void {
  for (const { status, body } of answers) {
    expect(status, JSON.stringify(body)).toBe(200);
    expect(body).toEqual(answers[0]?.body);
  }
}

const all = [
  { name: 'two processes', proxy: () => two, processes: [0, 1] },
  { name: 'three processes', proxy: () => three, processes: [0, 1, 2] },
];

for (const { name, proxy, processes } of all) {
  const last = processes.length - 1;

  test(`${name}: requests in turn reach each of them`, async ({ playwright }) => {
    const person = await Person.signedIn(playwright, proxy(), 'curator');
    const answers = await Promise.all(Array.from({ length: 12 }, () => person.get('/api/desk/waiting')));
    expect(answers.map(({ status }) => status)).toEqual(answers.map(() => 200));
    expect([...new Set(answers.map(({ by }) => by))].sort()).toEqual(processes);
  });

  test(`${name}: a session is good at each, and ends at all of them at once, with what listens`, async ({
    playwright,
  }) => {
    const administrator = await Person.signedIn(playwright, proxy(), 'administrator');
    const person = await Person.signedIn(playwright, proxy(), 'volunteer2', last);
    const statuses = async () =>
      (await Promise.all(processes.map((one) => person.get('/api/desk/waiting', one)))).map(
        ({ status }) => status,
      );
    expect(await statuses()).toEqual(processes.map(() => 200));

    const heard = await person.listen(last);
    const { rows } = (await administrator.get('/api/people?q=Tomas', 0)).body as { rows: { id: string }[] };
    expect(rows).toHaveLength(1);
    const ended = await administrator.post(`/api/people/${rows[0]?.id}/end-sessions`, {}, { to: 0 });
    expect(ended.status, JSON.stringify(ended.body)).toBe(200);
    expect(await statuses()).toEqual(processes.map(() => 401));
    await expect.poll(() => heard.ended).toBe(true);

    expect(await person.signIn('volunteer2', { through: 0 })).toBeNull();
    expect(await statuses()).toEqual(processes.map(() => 200));
    const { csrfToken } = (await person.get('/api/auth/csrf', last)).body;
    const before = await person.api.storageState();
    await person.api.post('/api/auth/signout', {
      form: { csrfToken: String(csrfToken), json: 'true' },
      headers: { [TO]: String(last) },
    });
    const cookie = before.cookies.map((one) => `${one.name}=${one.value}`).join('; ');
    for (const one of processes) {
      const copied = await fetch(`${proxy().address}/api/desk/waiting`, {
        headers: { cookie, [TO]: String(one) },
      });
      expect(copied.status).toBe(401);
    }
  });

  test(`${name}: a change made at one is heard at each`, async ({ playwright }) => {
    const person = await Person.signedIn(playwright, proxy(), 'curator');
    const heard = await Promise.all(processes.map((one) => person.listen(one)));
    for (const one of processes) {
      const made = await person.post('/api/salvage', find(`Heard from ${one}`), { to: one });
      expect(made.status, JSON.stringify(made.body)).toBe(200);
      for (const listener of heard) await expect.poll(() => listener.text).toContain(String(made.body.id));
    }
    for (const { leave } of heard) leave();
  });

  test(`${name}: one command sent to each at once is done once and answered alike`, async ({
    playwright,
  }) => {
    const registrar = await Person.signedIn(playwright, proxy(), 'registrar');
    for (let round = 0; round < 5; round += 1) {
      const [institution, key] = [`Sent to each at once ${randomUUID()}`, randomUUID()];
      const body = { institution, contact: 'Nadja Quist', country: 'US' };
      const answers = await Promise.all(
        processes.map((to) => registrar.post('/api/loans/borrowers', body, { to, key })),
      );
      expect(answers.map(({ by }) => by)).toEqual(processes);
      expectAlike(answers);
      expect(await count('"Borrower" WHERE institution = $1', institution)).toBe(1);
    }
    // Whoever takes a bird locks it without waiting: the same delivery elsewhere finds it gone.
    const person = await Person.signedIn(playwright, proxy(), 'preparator');
    const { rows } = (await person.get('/api/queue?size=50')).body as {
      rows: { id: string; abilities: { take: boolean } }[];
    };
    const bird = rows.find(({ abilities }) => abilities.take);
    expect(bird, 'a bird to take').toBeDefined();
    const key = randomUUID();
    const timesTaken = () => count(`"AuditEvent" WHERE "birdId" = $1 AND kind = 'queue.taken'`, bird?.id);
    const before = await timesTaken();
    const taken = await Promise.all(
      processes.map((to) => person.post(`/api/queue/${bird?.id}/take`, {}, { to, key })),
    );
    expectAlike(taken);
    expect(await timesTaken()).toBe(before + 1);
    const back = await person.post(`/api/queue/${bird?.id}/put-back`, { reason: 'Only tried.' });
    expect(back.status, JSON.stringify(back.body)).toBe(200);
  });

  test(`${name}: numbers given by all of them at once are without double and without gap`, async ({
    playwright,
  }) => {
    const person = await Person.signedIn(playwright, proxy(), 'preparator');
    const made = await Promise.all(
      Array.from({ length: 9 }, (_, at) =>
        person.post('/api/salvage', find(`At once ${at}`), { to: at % processes.length }),
      ),
    );
    expect(made.map(({ status }) => status)).toEqual(made.map(() => 200));
    const figures = made
      .map(({ body }) => Number(/\d+$/.exec(String((body as Find).number))?.[0]))
      .sort((a, b) => a - b);
    expect(figures).toEqual(figures.map((_, at) => (figures[0] ?? 0) + at));
    await expectNumbersWithoutGap();
  });
}

test('a file that came to one is read at the others', async ({ playwright }) => {
  const person = await Person.signedIn(playwright, three, 'preparator');
  const { id } = (await person.post('/api/salvage', find('With a picture'), { to: 0 })).body as Find;
  // A picture of one dot.
  const dot = Buffer.from(
    'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==',
    'base64',
  );
  const file = await person.api.post(
    `/api/attachments?subjectType=salvage&subjectId=${id}&fileName=dot.png`,
    {
      data: dot,
      headers: { 'content-type': 'image/png', origin: three.address, [TO]: '0' },
    },
  );
  const kept = (await file.json()) as { id: string };
  expect(file.status(), JSON.stringify(kept)).toBe(200);
  for (const to of ['1', '2']) {
    const read = await person.api.get(`/api/attachments/${kept.id}/file?copy=original`, {
      headers: { [TO]: to },
    });
    expect(read.headers()[BY]).toBe(to);
    expect(read.headers()['content-type']).toBe('image/png');
    expect((await read.body()).equals(dot)).toBe(true);
  }
});

test('a sheet that came to one is checked and run by any worker, asked for at another, its errors fetched at a third', async ({
  playwright,
}) => {
  workers = await Promise.all([startWorker(), startWorker()]);
  const registrar = await Person.signedIn(playwright, three, 'registrar');
  const mark = `Imported ${randomUUID()}`;
  const lines = Array.from(
    { length: 12 },
    (_, at) => `R-${at} ${mark},Turdus migratorius,2019-05-03,Ohio,Franklin,${mark}`,
  );
  lines.push(`R-bad ${mark},Turdus migratorius,no day at all,Ohio,Franklin,${mark}`);
  const handedIn = await registrar.api.post('/api/exchange/imports?fileName=old.csv', {
    data: Buffer.from(['Freezer no,Species,Date found,State,County,Locality', ...lines].join('\n')),
    headers: { 'content-type': 'text/csv', origin: three.address, [TO]: '0' },
  });
  const sheet = (await handedIn.json()) as {
    id: string;
    suggestions: { index: number; fieldId: string | null }[];
  };
  expect(handedIn.status(), JSON.stringify(sheet)).toBe(200);
  const fields = Object.fromEntries(
    sheet.suggestions.flatMap(({ index, fieldId }) => (fieldId === null ? [] : [[String(index), fieldId]])),
  );
  const path = `/api/exchange/imports/${sheet.id}`;
  const stateAt = (to: number) => async () => (await registrar.get(path, to)).body.state;
  const checking = await registrar.post(`${path}/check`, { fields, defaults: { country: 'US' } }, { to: 0 });
  expect(checking.status, JSON.stringify(checking.body)).toBe(200);
  await expect.poll(stateAt(1)).toBe('checked');
  expect((await registrar.post(`${path}/run`, {}, { to: 1 })).status).toBe(200);
  await expect.poll(stateAt(2), { timeout: 30_000 }).toBe('done');
  expect(await count('"SalvageRecord" WHERE locality = $1', mark)).toBe(12);
  const errors = await registrar.api.get(`${path}/errors`, { headers: { [TO]: '2' } });
  expect(errors.headers()[BY]).toBe('2');
  expect(await errors.text()).toContain(`R-bad ${mark}`);
  await expectNumbersWithoutGap();
});

test('wrong passwords are counted together, whichever process they come to', async ({ playwright }) => {
  const guessers = await Promise.all(Array.from({ length: 15 }, () => Person.at(playwright, three)));
  const said = await Promise.all(
    guessers.map((one, at) => one.signIn('volunteer2', { through: at % 3, password: 'a guess' })),
  );
  const refused = said.filter((error) => error?.startsWith('Too many attempts.'));
  expect(refused, said.join()).toHaveLength(5);
  for (const through of [0, 1, 2])
    expect(await guessers[0]?.signIn('volunteer2', { through })).toContain('Too many attempts.');
});

test('work that comes by the clock has its effect once, also where three workers begin it at once', async ({
  playwright,
}) => {
  const person = await Person.signedIn(playwright, three, 'preparator');
  const { rows } = (await person.get('/api/queue?size=50')).body as {
    rows: { id: string; abilities: { take: boolean } }[];
  };
  const birds = rows
    .filter(({ abilities }) => abilities.take)
    .slice(0, 2)
    .map(({ id }) => id);
  expect(birds).toHaveLength(2);
  for (const id of birds) expect((await person.post(`/api/queue/${id}/take`, {})).status).toBe(200);
  const [ended = '', ending = ''] = birds;
  await database.query(
    `UPDATE "Bird" SET "claimExpiresAt" = now() - interval '1 day', "claimNoticedAt" = CASE id WHEN $1 THEN now() - interval '10 days' END
     WHERE id IN ($1, $2)`,
    [ended, ending],
  );
  const begun = await database.query<{ now: Date }>('SELECT now()');
  const tasks = ['queue.expire-claims', 'permits.remind', 'loans.remind', 'notices.digests'];
  const { rows: jobs } = await database.query<{ id: string }>(
    `SELECT (graphile_worker.add_job(task)).id FROM unnest($1::text[]) AS task, generate_series(1, 3)`,
    [tasks],
  );
  const ids = jobs.map(({ id }) => id);
  expect(ids).toHaveLength(12);
  await expect
    .poll(() => count('graphile_worker._private_jobs WHERE id = ANY($1)', ids), { timeout: 30_000 })
    .toBe(0);
  const recorded = (id: string, kind: string) =>
    count('"AuditEvent" WHERE "birdId" = $1 AND kind = $2 AND at >= $3', id, kind, begun.rows[0]?.now);
  expect(await recorded(ended, 'queue.claim-ran-out')).toBe(1);
  expect(await recorded(ending, 'queue.claim-ending')).toBe(1);
  for (const kind of ['permits.reminded', 'loans.reminded'])
    expect(
      await count(
        `(SELECT 1 FROM "AuditEvent" WHERE kind = $1 GROUP BY "subjectId", payload->>'key' HAVING count(*) > 1) AS twice`,
        kind,
      ),
    ).toBe(0);
});

test('one process is killed in the midst of writes: the others go on, and nothing acknowledged is missing', async ({
  playwright,
  browser,
}) => {
  const page = await signInAs(browser, 'curator', {
    baseURL: three.address,
    extraHTTPHeaders: { [TO]: '2' },
  });
  const place = `Logged while one was killed ${randomUUID()}`;
  await page.goto(`/salvage?q=${encodeURIComponent(place)}`);
  const person = await Person.signedIn(playwright, three, 'preparator');
  const acknowledged: Find[] = [];
  let [isOver, sent, again] = [false, 0, 0];
  const writer = async () => {
    while (!isOver) {
      sent += 1;
      const [body, key] = [find(`${place} ${sent}`), randomUUID()];
      for (let answer = await write(); ; answer = await write()) {
        if (answer !== null) {
          acknowledged.push(answer);
          break;
        }
        again += 1;
      }
      async function write(): Promise<Find | null> {
        const answer = await person.post('/api/salvage', body, { key });
        if (answer.status === 502 || answer.status === 503) return null;
        expect(answer.status, JSON.stringify(answer.body)).toBe(200);
        return answer.body as Find;
      }
    }
  };
  const writers = Array.from({ length: 6 }, writer);
  await expect.poll(() => acknowledged.length).toBeGreaterThan(6);
  // A proxy may answer an error before it knows: a page that listens must not give up for that.
  three.refused.set('/api/live', 1);
  await kill(replicas[1] as Replica);
  const before = acknowledged.length;
  await expect.poll(() => acknowledged.length, { timeout: 30_000 }).toBeGreaterThan(before + 10);
  isOver = true;
  await Promise.all(writers);

  expect(acknowledged).toHaveLength(sent);
  const { rows } = await database.query<{ number: string }>(
    `SELECT number FROM "SalvageRecord" WHERE locality LIKE $1 ORDER BY number`,
    [`${place} %`],
  );
  expect(rows.map(({ number }) => number)).toEqual(acknowledged.map(({ number }) => number).sort());
  await expectNumbersWithoutGap();
  test.info().annotations.push({ type: 'sent again', description: String(again) });

  await expect.poll(() => three.refused.get('/api/live'), { timeout: 30_000 }).toBe(0);
  await expect(page.getByText(acknowledged.at(-1)?.number ?? '').first()).toBeVisible({ timeout: 30_000 });
  const later = await person.post('/api/salvage', find(`${place}, and after it`), { to: 0 });
  await expect(page.getByText(String(later.body.number)).first()).toBeVisible({ timeout: 30_000 });
});
