import {
  confirmReceipt,
  grantLoan,
  packLoan,
  sendLoan,
  setDocuments,
  takeIntoReview,
} from '@/lib/loans/service/acts';
import { addBorrower, askLoan } from '@/lib/loans/service/ask';
import { placeRequest } from '@/lib/places/schema';
import { addPlace } from '@/lib/places/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { explainWarnings, markReportReady, openReport, signReport } from '@/lib/reports/service/commands';
import { PARCEL_WITHIN_US } from '../factories/parcel';
import { contextOf, type Stage } from './foundation';
import type { Act } from './play';
import { shelfActs } from './shelf';
import { PLACES } from './stories';

/** What happens beside single birds: skins go to the drawer, bones go out and are late, years are reported. */
export function labActs(stage: Stage): Act[] {
  const person = (key: string): Actor => {
    const found = stage.people[key];
    if (found === undefined) throw new Error(`The demo has nobody called ${key}.`);
    return found;
  };
  const [preparator, curator, curator2, registrar, officer] = [
    'preparator',
    'curator',
    'curator2',
    'registrar',
    'officer',
  ].map(person) as [Actor, Actor, Actor, Actor, Actor];
  const act = (at: string, run: () => Promise<void>): Act => ({ at, run });
  return [
    act('2024-01-03T15:00:00.000Z', () => namePlaces(registrar)),
    ...shelfActs(stage, preparator),
    act('2025-01-20T15:00:00.000Z', () => reportYear(stage, officer, '2024-06-30')),
    act('2026-01-22T15:00:00.000Z', () => reportYear(stage, officer, '2025-06-30')),
    act('2026-02-03T15:00:00.000Z', () =>
      lend({ registrar, curator, curator2 }, 'Marrow Ridge Teaching Collection', '2026-08-03'),
    ),
    act('2026-10-12T15:00:00.000Z', () =>
      ask(curator, 'Lindenau Bird Morphology Group').then(() => undefined),
    ),
  ];
}

/** The places where birds are found again and again. */
async function namePlaces(by: Actor): Promise<void> {
  for (const { locality, county, latitude, longitude } of PLACES)
    await addPlace(
      contextOf(by),
      placeRequest.parse({
        name: locality,
        country: 'US',
        stateProvince: 'Ohio',
        county,
        written: { coordinates: `${latitude}, ${longitude}`, datum: 'WGS84', extentM: 100 },
      }),
    );
}

async function shelvedSkins(by: Actor, count: number): Promise<string[]> {
  const skins = await db().material.findMany({
    where: {
      collectionId: by.collectionId,
      kind: 'skin',
      state: 'shelved',
      custody: 'on-shelf',
      loanLines: { none: {} },
    },
    orderBy: { createdAt: 'asc' },
    take: count,
  });
  return skins.map(({ id }) => id);
}

async function ask(by: Actor, institution: string) {
  const borrower = await addBorrower(contextOf(by), {
    institution,
    contact: 'Collections desk',
    email: 'collections@demo.example',
    address: 'Example street 4',
    country: 'US',
  });
  return askLoan(contextOf(by), {
    kind: 'loan',
    borrowerId: borrower.id,
    purpose: 'Comparison of wing shape between window-killed and road-killed thrushes.',
    materialIds: await shelvedSkins(by, 3),
    dueOn: null,
  });
}

async function lend(
  who: { registrar: Actor; curator: Actor; curator2: Actor },
  institution: string,
  dueOn: string,
): Promise<void> {
  const { registrar, curator, curator2 } = who;
  let loan = await ask(curator, institution);
  loan = await takeIntoReview(contextOf(curator2), loan.id, { version: loan.version });
  loan = await grantLoan(contextOf(curator2), loan.id, {
    version: loan.version,
    note: 'Granted for six months.',
  });
  loan = await packLoan(contextOf(registrar), loan.id, {
    version: loan.version,
    lines: loan.lines.map(({ id }) => ({ lineId: id, conditionOut: 'Sound; tag on the legs.' })),
  });
  loan = await setDocuments(contextOf(registrar), loan.id, {
    version: loan.version,
    parcel: PARCEL_WITHIN_US,
    documents: [],
  });
  loan = await sendLoan(contextOf(registrar), loan.id, { version: loan.version, on: '2026-02-03', dueOn });
  await confirmReceipt(contextOf(registrar), loan.id, { version: loan.version, on: '2026-02-03' });
}

/** The federal permit's report on a year: warnings explained in writing, then signed. */
async function reportYear(stage: Stage, officer: Actor, onDay: string): Promise<void> {
  const permit = await db().permit.findFirstOrThrow({
    where: { collectionId: stage.collectionId, kind: 'salvage' },
  });
  let report = await openReport(contextOf(officer), { permitId: permit.id, onDay });
  const open = report.report.warnings.filter(({ mustExplain }) => mustExplain);
  if (open.length > 0) {
    report = await explainWarnings(contextOf(officer), report.id, {
      version: report.version,
      warningIds: open.map(({ id }) => id),
      text: 'Checked against the paper file; the record stands as it is.',
    });
  }
  report = await markReportReady(contextOf(officer), report.id, { version: report.version });
  await signReport(contextOf(officer), report.id, { version: report.version });
}
