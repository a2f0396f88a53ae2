import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { PARCEL_WITHIN_US } from '../../seed/factories/parcel';
import { readPages } from '../integration/reports/pdf-pages';
import { command, read, signInAs } from './people';

type Find = { id: string; birdId: string | null };
type Rows<T> = { rows: T[] };
type Made = { id: string; version: number };
type Material = { id: string; label: string; kind: string; state: string | null };
type Unit = { id: string; kind: string; grid: unknown };
type Step = { materialId: string; stepId: string | null };
type Line = { id: string; label: string };
type Loan = Made & { state: string; lines: Line[]; balance: Record<string, number> };
type Report = Made & { fromOn: string; edition: number; state: string; unexplained: number };

const FOUND = '2025-12-18';
/** The day at the demo's museum: in the night of UTC it is still the one before. */
const today = () => new Date().toLocaleDateString('en-CA', { timeZone: 'America/New_York' });

const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true }).click();

/** Chooses a row of a list by the number in it. */
const choose = (page: Page, number: string) =>
  page.getByRole('row').filter({ hasText: number }).getByRole('checkbox').check();

async function dictate(page: Page, line: string): Promise<void> {
  await page.getByLabel('Dictation').fill(line);
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('Dictation'), line).toHaveValue('');
}

/** A material as the board of its stage shows it, with the step that was seen last. */
async function chosenOn(page: Page, board: string, materialId: string): Promise<Step> {
  const { groups } = await read<{ groups: { rows: { id: string; step: { id: string } | null }[] }[] }>(
    page,
    board,
  );
  const row = groups.flatMap(({ rows }) => rows).find(({ id }) => id === materialId);
  return { materialId, stepId: row?.step?.id ?? null };
}

/** Every step of a loan that is not decided by a click of its own in loan.spec.ts. */
async function lendAndTakeBack(registrar: Page, curator: Page, skinId: string): Promise<Loan> {
  const borrower = await command<Made>(registrar, '/api/loans/borrowers', {
    institution: 'Cabinet of small wings',
    contact: 'Orla Finch',
    country: 'US',
  });
  let loan = await command<Loan>(registrar, '/api/loans', {
    kind: 'loan',
    borrowerId: borrower.id,
    purpose: 'Plumage of thrushes compared in daylight.',
    materialIds: [skinId],
  });
  const act = async (page: Page, name: string, body: object) => {
    loan = await command<Loan>(page, `/api/loans/${loan.id}/${name}`, { version: loan.version, ...body });
  };
  await act(curator, 'review', {});
  await act(curator, 'grant', {});
  await act(registrar, 'documents', {
    parcel: PARCEL_WITHIN_US,
    documents: [],
  });
  const [line] = loan.lines;
  if (line === undefined) throw new Error('a loan of one skin');
  await act(registrar, 'pack', { lines: [{ lineId: line.id, conditionOut: 'Sound, tag tied' }] });
  await act(registrar, 'send', { on: today(), dueOn: '2099-01-31' });
  expect(loan.balance).toMatchObject({ sent: 1, out: 1 });
  await registrar.goto(`/materials/${skinId}`);
  await expect(registrar.getByText('On loan', { exact: true }).first()).toBeVisible();
  await act(registrar, 'receive', { on: today() });
  await act(registrar, 'settle', {
    lines: [{ lineId: line.id, outcome: 'returned', on: today(), conditionIn: 'Sound' }],
  });
  return loan;
}

test('the whole life of one bird, from the finder to the signed report, by five roles', async ({
  browser,
}) => {
  test.setTimeout(300_000);
  const registrar = await signInAs(browser, 'registrar');
  const preparator = await signInAs(browser, 'preparator');
  const volunteer = await signInAs(browser, 'volunteer');
  const curator = await signInAs(browser, 'curator');
  const officer = await signInAs(browser, 'officer');
  let number = '';
  let findId = '';
  let birdId = '';
  let recordId = '';
  let catalogueNumber = '';

  await test.step('registrar: logs what a finder kept in a freezer since last year', async () => {
    await registrar.goto('/salvage/new');
    await registrar.getByLabel('What bird?').fill('Hermit Thrush');
    await registrar.getByRole('option', { name: /Hermit Thrush/ }).click();
    await registrar.getByLabel('Found on').fill(FOUND);
    await registrar.getByLabel('In words').fill('Under the north windows of the library');
    await registrar.getByLabel('County').fill('Franklin');
    await registrar.getByLabel('State or province').fill('Ohio');
    await registrar.getByLabel('Country (two letters)').fill('US');
    await registrar.getByLabel('Suspected cause').selectOption('window-strike');
    await registrar.getByLabel('Somebody else').check();
    await registrar.getByLabel('Name', { exact: true }).fill('Imke Sorrel');
    await registrar.getByLabel('Acting as').selectOption('under-direct-control');
    await press(registrar, 'Log this bird');
    number = (await registrar.getByText(/^SB-\d{4}-\d{4}$/).textContent()) ?? '';
    await registrar.getByRole('link', { name: 'Open the record' }).click();
    await expect(registrar).toHaveURL(/\/salvage\/[0-9a-f-]{36}$/);
    await expect(registrar.getByText(/^Covered: .*MB-40417-2$/)).toBeVisible();
    findId = new URL(registrar.url()).pathname.split('/').at(-1) ?? '';
  });

  await test.step('preparator: accepts it into a freezer', async () => {
    await preparator.goto(`/salvage/${findId}`);
    await press(preparator, 'Begin triage');
    await press(preparator, 'Accept this bird');
    const place = preparator.getByLabel('Where it goes now');
    const freezer = place
      .getByRole('option')
      .filter({ hasText: /freezer/i })
      .first();
    await place.selectOption(await freezer.getAttribute('value'));
    await press(preparator, 'Accept this bird');
    await expect(preparator.getByRole('link', { name: 'All of this bird' })).toBeVisible();
    birdId = (await read<Find>(preparator, `/api/salvage/${findId}`)).birdId ?? '';
  });

  await test.step('registrar: accessions it', async () => {
    await registrar.goto('/accessions/new');
    await registrar.getByLabel('From whom or where').fill('Imke Sorrel, library');
    await choose(registrar, number);
    await press(registrar, 'Make the accession of 1 bird');
    await expect(registrar).toHaveURL(/\/accessions\/[0-9a-f-]{36}$/);
    await expect(registrar.getByText(number).first()).toBeVisible();
  });

  await test.step('preparator: queues it', async () => {
    await preparator.goto('/queue');
    await choose(preparator, number);
    await preparator.getByLabel('Size', { exact: true }).last().selectOption('small');
    await press(preparator, 'Queue 1 bird');
    await expect(preparator.getByRole('button', { name: 'Queue the chosen birds' })).toBeVisible();
  });

  await test.step('volunteer: takes it, says what is found, divides it, sends it to review', async () => {
    await volunteer.goto(`/queue?q=${number}`);
    await press(volunteer, 'Take this bird');
    await expect(volunteer.getByText(`${number} is yours.`)).toBeVisible();
    await volunteer.getByLabel('Show').selectOption('Taken');
    await press(volunteer, 'Out of the freezer');
    await expect(volunteer.getByRole('button', { name: 'Out of the freezer' })).toHaveCount(0);
    const record = await command<Made>(volunteer, '/api/bench', { birdId });
    recordId = record.id;
    await volunteer.goto(`/bench/${recordId}`);
    await expect(volunteer.getByLabel('Dictation')).toBeEditable();
    await dictate(volunteer, 'mass 30.4 g wing 92 tail 68 tarsus 29.8 culmen 13.1 total length 170');
    await dictate(volunteer, 'left testis 2.1 by 1.4 right testis 1.9 by 1.3 sex male');
    await dictate(volunteer, 'skull fully ossified; bursa none; fat two; no moult');
    await dictate(volunteer, 'iris dark brown bill horn legs pale brown');
    await dictate(volunteer, 'stomach berries and seeds; cause of death head trauma');
    await dictate(volunteer, 'muscle and heart in vial one, liver in vial two');

    const vials = volunteer.getByRole('region', { name: 'Tissue vials' });
    await vials.getByLabel('Muscle').check();
    await vials.getByLabel('Amount', { exact: true }).fill('250');
    await vials.getByRole('button', { name: 'Fill 1 vial' }).click();
    await expect(vials.getByRole('link', { name: `${number}-T1` })).toBeVisible();

    const bones = volunteer.getByRole('region', { name: 'Bone book' });
    await bones.getByRole('button', { name: 'Fill the usual split' }).click();
    await expect(bones.getByText('Saved').first()).toBeVisible();

    await press(volunteer, 'Divide the carcass');
    await press(volunteer, 'Divide it');
    await expect(volunteer.getByRole('rowheader', { name: `${number}-S`, exact: true })).toBeVisible();
    const why = volunteer.getByLabel('If it stays so, say why');
    if (await why.isVisible()) await why.fill('Not looked at in this bird.');
    await press(volunteer, 'Send to review');
    await expect(volunteer.getByText('In review').first()).toBeVisible();
  });

  await test.step('curator: approves it; it has its number and is locked', async () => {
    await curator.goto(`/catalogue/review/${recordId}`);
    await press(curator, 'Approve and number');
    const decision = curator.getByRole('form', { name: 'Approve and number' });
    await expect(decision).toBeVisible();
    for (const explanation of await decision.getByRole('textbox').all())
      await explanation.fill('Seen with the preparator; it is so.');
    await press(curator, 'Approve and number');
    const approved = curator.getByText(/^Approved as B-\d+$/);
    await expect(approved).toBeVisible();
    catalogueNumber = ((await approved.textContent()) ?? '').replace('Approved as ', '');
  });

  await test.step('preparator: dries the skin, shelves it, and begins to clean the bones', async () => {
    const { materials } = await read<{ materials: Material[] }>(preparator, `/api/desk/birds/${birdId}`);
    const skin = materials.find(({ kind }) => kind === 'skin');
    const skeleton = materials.find(({ kind }) => kind === 'skeleton');
    if (!skin || !skeleton) throw new Error('a skin and a skeleton');
    const { units } = await read<{ units: Unit[] }>(preparator, '/api/storage');
    const drawer = units.find(({ kind, grid }) => kind === 'drawer' && grid === null);
    if (!drawer) throw new Error('a drawer');
    for (const to of ['drying', 'dry', 'pest-freeze', 'shelved']) {
      await command(preparator, '/api/skins/advance', {
        to,
        chosen: [await chosenOn(preparator, '/api/skins', skin.id)],
        temperatureC: to === 'pest-freeze' ? -20 : null,
        place: to === 'shelved' ? { unitId: drawer.id } : null,
        // The rule asks for days of freezing, or for a reason.
        note: to === 'shelved' ? 'The days of freezing are passed over in this journey.' : null,
      });
    }
    const { procedures } = await read<{ procedures: { id: string }[] }>(
      preparator,
      '/api/skeletons/procedures',
    );
    await command(preparator, '/api/skeletons/procedure', {
      procedureId: procedures[0]?.id,
      chosen: [await chosenOn(preparator, '/api/skeletons', skeleton.id)],
    });
    await preparator.goto(`/birds/${birdId}`);
    await expect(preparator.getByText('Shelved', { exact: true }).first()).toBeVisible();
    await expect(preparator.getByText('Cleaning', { exact: true }).first()).toBeVisible();
  });

  await test.step('registrar: lends the skin and takes it back', async () => {
    const { materials } = await read<{ materials: Material[] }>(registrar, `/api/desk/birds/${birdId}`);
    const skin = materials.find(({ kind }) => kind === 'skin');
    if (!skin) throw new Error('a skin');
    const loan = await lendAndTakeBack(registrar, curator, skin.id);
    expect(loan).toMatchObject({ state: 'closed', balance: { sent: 1, returned: 1, out: 0 } });
  });

  await test.step('officer: amends the report of that year and signs it', async () => {
    const { rows } = await read<Rows<Report>>(officer, '/api/reports');
    const signed = rows.find(({ fromOn, state }) => fromOn === '2025-01-01' && state === 'signed');
    if (signed === undefined) throw new Error('a signed report on 2025');
    await officer.goto(`/reports/${signed.id}`);
    await press(officer, 'Amend this report');
    await officer.getByLabel('Why is it amended?').fill('A bird of that year was logged late.');
    await press(officer, 'Open the amended edition');
    await expect(officer).not.toHaveURL(new RegExp(signed.id));
    await expect(officer.getByText('Amended because: A bird of that year was logged late.')).toBeVisible();
    const id = new URL(officer.url()).pathname.split('/').at(-1) ?? '';
    const explain = officer.getByRole('button', { name: /^Explain: / });
    for (let left = await explain.count(); left > 0; left -= 1) {
      await explain.first().click();
      await officer.getByLabel('Explanation, printed in the report').fill('Looked up in the paper file.');
      await press(officer, 'Save the explanation');
      await expect(explain).toHaveCount(left - 1);
    }
    await press(officer, 'Mark as ready');
    await officer.getByRole('checkbox').check();
    await press(officer, 'Sign the report');
    await expect(officer.getByText('Digest (SHA-256)')).toBeVisible();

    const pdf = await officer.request.get(`/api/reports/${id}/pdf`);
    const lines = (await readPages(await pdf.body())).join('\n').split(/\r?\n/);
    expect(lines.filter((line) => line.includes(number))).toHaveLength(1);
  });

  await test.step('everybody: the story is whole, and so is the chain of changes', async () => {
    await curator.goto(`/birds/${birdId}`);
    await expect(curator.getByText(catalogueNumber).first()).toBeVisible();
    for (const told of ['gave it the catalogue number', 'sent it to review'])
      await expect(curator.getByText(told).first()).toBeVisible();
    const verified = spawnSync('npm', ['run', '--silent', 'verify'], {
      cwd: path.resolve(__dirname, '../..'),
      encoding: 'utf8',
      env: { ...process.env, DATABASE_URL: process.env.FURCULA_E2E_DATABASE_URL },
    });
    expect(verified.stdout).toContain('Everything is as it must be.');
    expect(verified.status).toBe(0);
  });
});
