import { expect, type Page, test } from '@playwright/test';
import { expectSaved, Keys, openRecord, type Shown, showRecord, takeBirds } from './bench';
import { signInAs } from './people';

/**
 * One complete record of a study skin: nothing that a label and a catalogue entry usually hold is missing. It is
 * written once by dictation and once through the form, both by keyboard alone and as short as each allows.
 */
const RECORD: Record<string, unknown> = {
  massG: 78.2,
  wingMm: 128.5,
  tailMm: 98,
  tarsusMm: 31.4,
  culmenExposedMm: 19.6,
  totalLengthMm: 250,
  irisColour: 'dark brown',
  billColour: 'yellow',
  legColour: 'brown',
  broodPatch: { score: 0, scale: 'not-stated' },
  moult: 'none',
  parasites: ['feather lice'],
  carcassCondition: 'fresh',
  skullOssificationPct: 100,
  leftOvary: { lengthMm: 12, widthMm: 5 },
  largestFollicleMm: 1.2,
  oviductState: 'straight',
  bursa: { state: 'none' },
  sex: 'female',
  tissueVials: [
    { vial: 1, kinds: ['liver'] },
    { vial: 2, kinds: ['muscle'] },
  ],
  fat: { score: 2, scale: 'kaiser-1993' },
  stomachContents: ['two beetles', 'grit'],
  trauma: ['bleeding in skull'],
  causeOfDeathFound: 'window strike',
};

/** What the scribe types into the line; "→" takes what it offers, "⏎" writes. */
const DICTATED = [
  '→78.2→128.5→98→31.4→19.6→250⏎',
  '→dark brown→yellow→brown→0→n→→feather lice→f→⏎',
  '→100 left o→12x5→1.2→st→→none→f→⏎',
  '→1 liver, vial 2 muscle⏎',
  '→2 on kaiser→two beetles and grit→bleeding in skull; cause→window strike⏎',
];

/** What is typed into each control of the form in its order; controls that are not named are passed with Tab. */
const FORM: Record<string, string> = {
  'Mass in g': '78.2',
  'Wing in mm': '128.5',
  'Tail in mm': '98',
  'Tarsus in mm': '31.4',
  'Exposed culmen in mm': '19.6',
  'Total length in mm': '250',
  'Sex as determined': 'f',
  'Left ovary in mm': '12x5',
  'Largest follicle in mm': '1.2',
  Oviduct: 't',
  'Skull ossified in %': '100',
  'Bursa of Fabricius in mm': 'none',
  Fat: '2',
  'Scale of fat': 'k',
  'Brood patch': '0',
  Moult: 'non',
  Iris: 'dark brown',
  Bill: 'yellow',
  Legs: 'brown',
  'Stomach contents': 'two beetles, grit',
  Parasites: 'feather lice',
  'Tissues and their vials': '1 liver, vial 2 muscle',
  'Condition of the carcass': 'f',
  Injuries: 'bleeding in skull',
  'Cause of death found': 'window strike',
};

async function dictate(page: Page, keys: Keys): Promise<void> {
  await keys.press('F2');
  for (const line of DICTATED) {
    for (const part of line.split(/(→|⏎)/)) {
      if (part === '→') await keys.press('ArrowRight');
      else if (part === '⏎') await keys.press('Enter');
      else if (part !== '') await keys.type(part);
    }
    await expect(page.getByLabel('Dictation'), line).toHaveValue('');
  }
}

/** Goes through the form from its first field to its last, control by control, as the Tab key leads. */
async function fillForm(page: Page, keys: Keys): Promise<void> {
  await page.getByLabel('Identified at the bench as').focus();
  const left = new Set(Object.keys(FORM));
  while (left.size > 0) {
    const name = await page.evaluate(() => {
      const control = document.activeElement as HTMLInputElement | null;
      if (control?.type === 'checkbox') return '';
      return control?.getAttribute('aria-label') ?? control?.labels?.[0]?.textContent ?? '';
    });
    const text = left.delete(name) ? FORM[name] : undefined;
    if (text !== undefined) await keys.type(text);
    await keys.press('Tab');
  }
}

const valuesOf = ({ values }: Shown) =>
  Object.fromEntries(Object.entries(values).map(([field, held]) => [field, held.value]));

test('a complete record by dictation takes fewer keystrokes than through the form', async ({ browser }) => {
  const page = await signInAs(browser, 'preparator');
  const [first, second] = await takeBirds(page, 2);
  if (!first || !second) throw new Error('two birds were taken');

  await openRecord(page, first.id);
  const spoken = new Keys(page);
  await dictate(page, spoken);
  await expectSaved(page);
  expect(valuesOf(await showRecord(page, first.id))).toEqual(RECORD);
  await expect(
    page.getByText('Everything that a label and a catalogue entry usually hold is there.'),
  ).toBeVisible();

  await openRecord(page, second.id);
  const written = new Keys(page);
  await fillForm(page, written);
  await expectSaved(page);
  expect(valuesOf(await showRecord(page, second.id))).toEqual(RECORD);

  console.log(
    `Keystrokes for one record: ${spoken.struck} by dictation, ${written.struck} through the form.`,
  );
  expect(spoken.struck).toBeLessThan(written.struck);
});

test('the whole way of a record, from the first word to review, needs no pointer', async ({ browser }) => {
  const page = await signInAs(browser, 'preparator');
  const [record] = await takeBirds(page, 1);
  if (!record) throw new Error('a bird was taken');
  await openRecord(page, record.id);
  const keys = new Keys(page);
  await dictate(page, keys);

  // What was not understood stays in the line, marked, with what is wrong.
  await keys.type('wing 130 flurb 12');
  await expect(page.getByText('flurb', { exact: false }).first()).toBeVisible();
  await keys.press('Enter');
  await expect(page.getByLabel('Dictation')).toHaveValue('flurb 12');
  await keys.press('Escape');
  await keys.type('undo');
  await keys.press('Enter');
  await expect
    .poll(async () => (await showRecord(page, record.id)).values.wingMm?.value, { message: 'undone' })
    .toBe(128.5);

  await keys.type('step done');
  await keys.press('Enter');
  await expect(page.getByText(/^1 of \d+ steps done$/)).toBeVisible();

  await page.getByRole('button', { name: 'Divide the carcass' }).focus();
  await keys.press('Enter');
  await page.getByRole('button', { name: 'Divide it' }).focus();
  await keys.press('Enter');
  await expect(page.getByRole('rowheader', { name: `${record.number}-S`, exact: true })).toBeVisible();
  await page.getByRole('button', { name: 'Send to review' }).focus();
  await keys.press('Enter');
  await expect(page.getByText('In review').first()).toBeVisible();
  await expect(page.getByLabel('Dictation')).not.toBeEditable();
});
