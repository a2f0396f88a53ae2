import { expect, type Page, test } from '@playwright/test';
import { command, read, signInAs } from './people';

type Lendable = { id: string; label: string; kind: string; problems: string[] };
type Loan = { balance: { out: number }; state: string };

/** Five materials of catalogued birds that may go as a grant, two vials among them. */
async function findMaterials(page: Page): Promise<Lendable[]> {
  const { rows } = await read<{ rows: { catalogueNumber: string }[] }>(
    page,
    '/api/catalogue?q=stage:catalogued%20material:vial&size=40',
  );
  const [vials, others]: [Lendable[], Lendable[]] = [[], []];
  for (const { catalogueNumber } of rows) {
    const { materials } = await read<{ materials: Lendable[] }>(
      page,
      `/api/loans/materials?kind=grant&q=${encodeURIComponent(catalogueNumber)}`,
    );
    const free = materials.filter(({ problems }) => problems.length === 0);
    vials.push(...free.filter(({ kind }) => kind === 'vial'));
    others.push(...free.filter(({ kind }) => kind !== 'vial'));
    if (vials.length >= 2 && others.length >= 3) return [...vials.slice(0, 2), ...others.slice(0, 3)];
  }
  throw new Error('The demo has not five materials that may be lent.');
}

const settle = async (page: Page, outcomes: Record<string, string>) => {
  await page.getByRole('button', { name: 'Take back', exact: true }).click();
  const form = page.getByRole('form', { name: 'Take back' });
  for (const [label, outcome] of Object.entries(outcomes))
    await form.getByLabel(`What became of ${label}`).selectOption(outcome);
  await form.getByRole('button', { name: /^Settle/ }).click();
  await expect(form).toHaveCount(0);
};

test('a grant out and back: two partial returns, one loss, one consumed; the balance ends at zero', async ({
  browser,
}) => {
  const registrar = await signInAs(browser, 'registrar');
  const materials = await findMaterials(registrar);
  const vials = materials.filter(({ kind }) => kind === 'vial').map(({ label }) => label);
  const [first = '', second = '', third = ''] = materials
    .filter(({ kind }) => kind !== 'vial')
    .map(({ label }) => label);
  const [used = '', back = ''] = vials;
  await command(registrar, '/api/loans/borrowers', {
    institution: 'Institute for old feathers',
    contact: 'Nadja Quist',
    country: 'US',
  });

  await registrar.goto('/loans/new');
  await registrar.getByLabel('A grant of tissue: it may be used up').check();
  await registrar
    .getByLabel('Who borrows')
    .selectOption({ label: 'Institute for old feathers, Nadja Quist' });
  await registrar.getByLabel('What it is for').fill('Isotopes of liver against feathers of one bird.');
  for (const { label } of materials) {
    await registrar.getByLabel('Scan a label, or type a number or name').fill(label);
    await registrar.keyboard.press('Enter');
    await registrar.getByRole('button', { name: `Choose ${label}`, exact: true }).click();
  }
  await registrar.getByRole('button', { name: 'Ask for 5 materials' }).click();
  await expect(registrar).toHaveURL(/\/loans\/[0-9a-f-]{36}$/);
  const address = new URL(registrar.url()).pathname;

  const curator = await signInAs(browser, 'curator');
  await curator.goto(address);
  await curator.getByRole('button', { name: 'Take into review' }).click();
  await curator.getByRole('button', { name: 'Take it into review' }).click();
  await curator.getByRole('button', { name: 'Grant', exact: true }).click();
  await curator.getByRole('button', { name: 'Grant the request' }).click();
  await expect(curator.getByText('Granted', { exact: true })).toBeVisible();

  await registrar.goto(address);
  await registrar.getByRole('button', { name: 'Say what the parcel is' }).click();
  await registrar.getByLabel('From, two letters').fill('US');
  await registrar.getByRole('button', { name: 'Keep this' }).click();
  await registrar.getByRole('button', { name: 'Pack', exact: true }).click();
  const conditions = registrar.getByLabel('Condition as it goes out');
  await expect(conditions).toHaveCount(5);
  for (const field of await conditions.all()) await field.fill('Sound, tag tied');
  await registrar.getByRole('button', { name: 'Pack the box' }).click();
  await registrar.getByRole('button', { name: 'Send', exact: true }).click();
  await registrar.getByLabel('Due back on').fill('2099-01-31');
  await registrar.getByRole('button', { name: 'Send the box' }).click();
  await expect(registrar.getByText('= 5 out', { exact: true })).toBeVisible();

  await settle(registrar, { [first]: 'returned' });
  await expect(registrar.getByText('= 4 out', { exact: true })).toBeVisible();
  await settle(registrar, { [second]: 'returned', [back]: 'returned' });
  await settle(registrar, { [third]: 'lost' });
  await settle(registrar, { [used]: 'consumed' });
  await expect(registrar.getByText('= 0 out', { exact: true })).toBeVisible();
  await expect(registrar.getByText('Closed', { exact: true })).toBeVisible();

  const loan = await read<Loan>(registrar, `/api${address}`);
  expect(loan).toMatchObject({
    state: 'closed',
    balance: { sent: 5, returned: 3, consumed: 1, lost: 1, out: 0 },
  });
  const papers = await registrar.request.get(`/api${address}/papers`);
  expect(papers.headers()['content-type']).toBe('application/pdf');
});
