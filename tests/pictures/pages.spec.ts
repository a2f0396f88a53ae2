import path from 'node:path';
import { type Page, test } from '@playwright/test';
import { read, signInAs } from '../e2e/people';

type Rows = { rows: { id: string; birdId?: string | null }[] };

const out = path.resolve(import.meta.dirname, '../output/pictures');
const docs = path.resolve(import.meta.dirname, '../../public/docs');

const first = async (page: Page, address: string): Promise<string | undefined> =>
  (await read<Rows>(page, address)).rows[0]?.id;

/** Every page a role opens: name → address. A page whose record does not exist in the demo is left out. */
async function pagesOf(page: Page, who: string): Promise<[string, string][]> {
  if (who === 'visitor') return [['catalogue-visitor', '/catalogue']];
  if (who === 'administrator')
    return [
      ['people', '/people'],
      ['desk-administrator', '/'],
    ];
  if (who === 'volunteer')
    return [
      ['desk', '/'],
      ['queue', '/queue'],
      ['bench-desk', '/bench'],
    ];
  if (who === 'registrar') {
    const accession = await first(page, '/api/accessions');
    const loan = await first(page, '/api/loans');
    return [
      ['desk-registrar', '/'],
      ['accessions', '/accessions'],
      ['accession-new', '/accessions/new'],
      ...(accession ? ([['accession', `/accessions/${accession}`]] as [string, string][]) : []),
      ['loans', '/loans'],
      ...(loan ? ([['loan', `/loans/${loan}`]] as [string, string][]) : []),
      ['storage', '/storage'],
      ['tissues', '/tissues'],
    ];
  }
  if (who === 'officer') {
    const permit = await first(page, '/api/permits');
    const salvage = await first(page, '/api/salvage');
    const report = await first(page, '/api/reports');
    return [
      ['desk-officer', '/'],
      ['permits', '/permits'],
      ...(permit ? ([['permit', `/permits/${permit}`]] as [string, string][]) : []),
      ['salvage', '/salvage'],
      ['salvage-new', '/salvage/new'],
      ...(salvage ? ([['salvage-record', `/salvage/${salvage}`]] as [string, string][]) : []),
      ['reports', '/reports'],
      ...(report ? ([['report', `/reports/${report}`]] as [string, string][]) : []),
    ];
  }
  const bench = await first(page, '/api/bench');
  const bird = (await read<Rows>(page, '/api/catalogue?size=1')).rows[0];
  const birdId = bird?.birdId ?? bird?.id;
  return [
    [`desk-${who}`, '/'],
    ['review', '/catalogue/review'],
    ['catalogue', '/catalogue'],
    ...(birdId
      ? ([
          ['bird', `/birds/${birdId}`],
          ['specimen', `/catalogue/${birdId}`],
        ] as [string, string][])
      : []),
    ...(bench ? ([['bench', `/bench/${bench}`]] as [string, string][]) : []),
    ['queue-curator', '/queue'],
    ['skills', '/queue/skills'],
    ['skeletons', '/skeletons'],
    ['skins', '/skins'],
  ];
}

const LOOKS = [
  { look: 'light', options: { colorScheme: 'light', viewport: { width: 1280, height: 900 } } },
  { look: 'dark', options: { colorScheme: 'dark', viewport: { width: 1280, height: 900 } } },
  { look: 'phone', options: { colorScheme: 'light', viewport: { width: 360, height: 780 } } },
] as const;

/** Pictures that README shows. */
const IN_README = new Set(['desk', 'bird', 'bench', 'queue', 'report']);

for (const who of ['volunteer', 'curator', 'registrar', 'officer', 'administrator', 'visitor']) {
  test(`pages of the ${who}`, async ({ browser }) => {
    for (const { look, options } of LOOKS) {
      const page = await signInAs(browser, who, options);
      for (const [name, address] of await pagesOf(page, who)) {
        await page.goto(address);
        await page.waitForLoadState('load');
        await page.waitForTimeout(700);
        await page.screenshot({ path: path.join(out, `${name}-${look}.png`), fullPage: true });
        if (look === 'light' && IN_README.has(name))
          await page.screenshot({ path: path.join(docs, `${name}.png`) });
      }
      await page.context().close();
    }
  });
}
