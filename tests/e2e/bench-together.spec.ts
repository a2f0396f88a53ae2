import { expect, test } from '@playwright/test';
import { expectSaved, openRecord, showRecord, takeBirds } from './bench';
import { command, read, signInAs } from './people';

type Entries = { entries: { value: unknown; by: { name: string }; current: boolean; outranked: boolean }[] };

test('two people write one record, one of them with a cut connection: nothing is lost, order is kept', async ({
  browser,
}) => {
  const rosa = await signInAs(browser, 'preparator');
  const ines = await signInAs(browser, 'volunteer');
  const [record] = await takeBirds(rosa, 1);
  if (!record) throw new Error('a bird was taken');
  const { people } = await read<{ people: { id: string; name: string }[] }>(rosa, '/api/bench/colleagues');
  const scribe = people.find(({ name }) => name === 'Ines Varga');
  await command(rosa, `/api/bench/${record.id}/scribe`, { personId: scribe?.id });
  await openRecord(rosa, record.id);
  await openRecord(ines, record.id);
  const say = async (page: typeof rosa, line: string) => {
    await page.getByLabel('Dictation').fill(line);
    await page.getByLabel('Dictation').press('Enter');
  };

  // What one writes is there for the other, while the other is in the middle of a word.
  await ines.getByLabel('Tail in mm').fill('71');
  await say(rosa, 'mass 61.2, tail 72');
  const writtenAt = Date.now();
  await ines.waitForFunction(
    () => document.querySelector<HTMLInputElement>('[aria-label="Mass in g"]')?.value === '61.2',
    undefined,
    { polling: 20 },
  );
  console.log(`The other screen showed what was written after ${Date.now() - writtenAt} ms.`);
  await expect(ines.getByLabel('Mass in g')).toHaveValue('61.2');
  await expect(ines.getByLabel('Tail in mm')).toHaveValue('71');
  await expect(ines.getByText(/Rosa Okafor wrote 72 mm; yours is not written yet/)).toBeVisible();
  await ines.getByLabel('Tail in mm').press('Escape');
  await expect(ines.getByLabel('Tail in mm')).toHaveValue('72');

  // The connection is cut: changes are kept on the device, and said to be.
  await ines.context().setOffline(true);
  await say(ines, 'wing 94 tarsus 20.1');
  await say(ines, 'no, tarsus 20.4');
  await ines.getByLabel('Iris').fill('dark brown');
  await ines.getByLabel('Iris').press('Enter');
  await expect(ines.getByText('Not sent yet: 4 changes kept on this device')).toBeVisible();
  await expect(ines.getByLabel('Tarsus in mm')).toHaveValue('20.4');
  expect(Object.keys((await showRecord(rosa, record.id)).values).sort()).toEqual(['massG', 'tailMm']);

  // Meanwhile the other writes on, also in a field that waits on the cut-off device.
  await say(rosa, 'wing 95, bill black');
  await expectSaved(rosa);

  // It is back: everything is sent once, in its order; the later of two values holds, the other is kept.
  await ines.context().setOffline(false);
  await expectSaved(ines);
  await expect(ines.getByLabel('Wing in mm')).toHaveValue('95');
  await expect(ines.getByLabel('Bill', { exact: true })).toHaveValue('black');
  await expect(rosa.getByLabel('Tarsus in mm')).toHaveValue('20.4');
  await expect(rosa.getByLabel('Iris')).toHaveValue('dark brown');
  const shown = await showRecord(rosa, record.id);
  expect(
    Object.fromEntries(Object.entries(shown.values).map(([field, { value }]) => [field, value])),
  ).toEqual({
    massG: 61.2,
    tailMm: 72,
    wingMm: 95,
    billColour: 'black',
    tarsusMm: 20.4,
    irisColour: 'dark brown',
  });
  const wing = await read<Entries>(rosa, `/api/bench/${record.id}/entries?field=wingMm`);
  expect(wing.entries.map(({ value, by, outranked }) => [value, by.name, outranked])).toEqual([
    [94, 'Ines Varga', true],
    [95, 'Rosa Okafor', false],
  ]);
  const tarsus = await read<Entries>(rosa, `/api/bench/${record.id}/entries?field=tarsusMm`);
  expect(tarsus.entries.map(({ value, current }) => [value, current])).toEqual([
    [20.4, true],
    [20.1, false],
  ]);
});

test('changes that were not sent survive a closed page', async ({ browser }) => {
  const page = await signInAs(browser, 'preparator');
  const [record] = await takeBirds(page, 1);
  if (!record) throw new Error('a bird was taken');
  await openRecord(page, record.id);
  // The server cannot be reached for commands, then the page is closed.
  await page.route('**/api/bench/*/entries', (route) => route.abort());
  await page.getByLabel('Dictation').fill('mass 61.2 g, fat two on kaiser');
  await page.getByLabel('Dictation').press('Enter');
  await expect(page.getByText('Not sent yet: 2 changes kept on this device')).toBeVisible();
  await page.close();

  const again = await page.context().newPage();
  await openRecord(again, record.id);
  await expect(again.getByLabel('Mass in g')).toHaveValue('61.2');
  await expectSaved(again);
  expect((await showRecord(again, record.id)).values.fat?.value).toEqual({ score: 2, scale: 'kaiser-1993' });
});
