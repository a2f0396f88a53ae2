import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dateColumn, dayIn, dayOf, now } from '@/lib/platform/clock';
import { paths } from '@/lib/platform/paths';
import { may } from '@/lib/platform/permissions';
import { sayDay } from '@/lib/platform/say-dates';
import { say, sayCode } from '@/lib/platform/words/say';
import { labelOf, placePath } from '@/lib/storage/public';
import { installationPiles } from './installation-piles';
import {
  findBenchRecords,
  findBirds,
  findLoans,
  findOpenReports,
  findOverdueSteps,
  findPermits,
  findSalvages,
  UNRULED,
} from './repo/piles';
import { findCollection } from './repo/waiting';
import type { Desk, DeskItem, DeskPile } from './schema';

const DAY_MS = 86_400_000;
const EXPIRY_AHEAD_DAYS = 60;
const LOAN_AHEAD_DAYS = 14;

const sayAt = (at: Date) => sayDay(dayOf(at));

type Day = { today: string; at: Date };

/** What this person has to do next, pile by pile, in the order of the work. */
export async function showDesk(actor: Actor): Promise<Desk> {
  authorise(actor, 'workspace.enter');
  const collection = await findCollection(actor.collectionId);
  const day: Day = { at: now(), today: dayIn(collection.timeZone, now()) };
  const piles = await Promise.all([
    ...(may(actor, 'queue.claim') ? benchPiles(actor) : []),
    ...(may(actor, 'bench.review') ? [reviewPile(actor)] : []),
    ...(may(actor, 'salvage.triage') ? [triagePile(actor)] : []),
    ...(may(actor, 'coverage.rule') ? [coveragePile(actor), permitPile(actor, day), reportPile(actor)] : []),
    ...(may(actor, 'accessions.make') ? [accessionPile(actor)] : []),
    ...(may(actor, 'loans.decide') ? [decisionPile(actor)] : []),
    ...(may(actor, 'loans.execute') ? [loanPile(actor, day)] : []),
    ...(may(actor, 'queue.prioritise') ? [overduePile(actor, day), unqueuedPile(actor)] : []),
    ...installationPiles(actor, day.at),
  ]);
  return { name: actor.name, piles };
}

type BirdRow = Awaited<ReturnType<typeof findBirds>>['rows'][number];
const birdName = (bird: { taxon: { scientificName: string } | null; salvage: { verbatimTaxon: string } }) =>
  bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon;

const birdItem = (bird: BirdRow, note: string, tone: DeskItem['tone'] = 'neutral'): DeskItem => ({
  id: bird.id,
  label: bird.number,
  scientificName: birdName(bird),
  note,
  tone,
  href: bird.bench === null ? paths.bird(bird.id) : paths.benchRecord(bird.bench.id),
});

function benchPiles(actor: Actor): Promise<DeskPile>[] {
  return [myBirds(actor), returnedPile(actor), nextPile(actor)];
}

async function myBirds(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findBirds(
    actor.collectionId,
    { claimedById: actor.personId, state: { in: ['claimed', 'thawing', 'on-the-bench'] } },
    { claimedAt: 'asc' },
  );
  return {
    id: 'my-birds',
    title: say('Your birds'),
    empty: say('You have no bird. Take one from the queue.'),
    total,
    items: rows.map((bird) =>
      birdItem(
        bird,
        `${sayCode(bird.state)}; ${placePath(bird.materials[0]?.placement ?? null) ?? say('no place noted')}`,
        bird.state === 'thawing' ? 'attention' : 'neutral',
      ),
    ),
    href: paths.bench,
  };
}

async function returnedPile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findBenchRecords(actor.collectionId, {
    preparatorId: actor.personId ?? '',
    state: 'returned',
  });
  return {
    id: 'returned',
    title: say('Returned to you with remarks'),
    empty: say('Nothing was returned to you.'),
    total,
    items: rows.map((record) => ({
      id: record.id,
      label: record.prepNumber,
      scientificName: birdName(record.bird),
      note: remarksOf(record.reviewRemarks),
      tone: 'attention',
      href: paths.benchRecord(record.id),
    })),
    href: null,
  };
}

function remarksOf(remarks: unknown): string {
  const first = Array.isArray(remarks)
    ? (remarks.at(-1) as { text?: string; remark?: string } | undefined)
    : undefined;
  return first?.text ?? first?.remark ?? say('See the remarks on the record.');
}

async function nextPile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findBirds(
    actor.collectionId,
    { state: 'queued', salvage: { holds: { none: { liftedAt: null } } } },
    { priority: 'desc' },
  );
  return {
    id: 'next',
    title: say('Next in the queue'),
    empty: say('The queue is empty.'),
    total,
    items: rows.map((bird) =>
      birdItem(
        bird,
        say('priority {round}; {placePath}', {
          round: Math.round(bird.priority),
          placePath: placePath(bird.materials[0]?.placement ?? null) ?? say('no place noted'),
        }),
      ),
    ),
    href: paths.queue,
  };
}

async function reviewPile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findBenchRecords(actor.collectionId, {
    state: 'in-review',
    preparatorId: { not: actor.personId ?? '' },
  });
  return {
    id: 'review',
    title: say('To review'),
    empty: say('No record waits for a curator.'),
    total,
    items: rows.map((record) => ({
      id: record.id,
      label: record.prepNumber,
      scientificName: birdName(record.bird),
      note: record.sentAt === null ? '' : say('sent {at}', { at: sayAt(record.sentAt) }),
      tone: 'neutral',
      href: paths.reviewRecord(record.id),
    })),
    href: paths.review,
  };
}

type SalvageRow = Awaited<ReturnType<typeof findSalvages>>['rows'][number];
const salvageItem = (row: SalvageRow, note: string, tone: DeskItem['tone']): DeskItem => ({
  id: row.id,
  label: row.number,
  scientificName: row.taxon?.scientificName ?? row.verbatimTaxon,
  note,
  tone,
  href: paths.salvageRecord(row.id),
});

async function triagePile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findSalvages(actor.collectionId, {
    state: { in: ['reported', 'in-triage', 'on-hold'] },
  });
  return {
    id: 'triage',
    title: say('Triage'),
    empty: say('No new bird waits.'),
    total,
    items: rows.map((row) =>
      salvageItem(
        row,
        row.holds[0]?.reason ??
          say('{county}, found {at}', {
            county: row.county || say('place unknown'),
            at: sayAt(row.foundFrom),
          }),
        row.holds.length > 0 ? 'stop' : 'neutral',
      ),
    ),
    href: paths.triage,
  };
}

async function coveragePile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findSalvages(actor.collectionId, {
    ...UNRULED,
    coverage: { in: ['needs-attention', 'not-covered'] },
    state: { not: 'declined' },
  });
  return {
    id: 'coverage',
    title: say('Coverage to rule on'),
    empty: say('Every bird is covered or ruled on.'),
    total,
    items: rows.map((row) =>
      salvageItem(row, sayCode(row.coverage), row.coverage === 'not-covered' ? 'stop' : 'attention'),
    ),
    href: `${paths.salvage}?coverage=needs-attention`,
  };
}

async function permitPile(actor: Actor, { today, at }: Day): Promise<DeskPile> {
  const from = dateColumn(today);
  const { total, rows } = await findPermits(
    actor.collectionId,
    new Date(at.getTime() + EXPIRY_AHEAD_DAYS * DAY_MS),
    from,
  );
  return {
    id: 'permits',
    title: say('Permits ending within {expiryAheadDays} days', { expiryAheadDays: EXPIRY_AHEAD_DAYS }),
    empty: say('No permit ends soon.'),
    total,
    items: rows.map((permit) => ({
      id: permit.id,
      label: permit.number,
      scientificName: null,
      note: say('{authority}, until {at}', {
        authority: permit.authority,
        at: permit.expiresOn === null ? say('further notice') : sayAt(permit.expiresOn),
      }),
      tone: 'attention',
      href: paths.permit(permit.id),
    })),
    href: paths.permits,
  };
}

async function reportPile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findOpenReports(actor.collectionId);
  return {
    id: 'reports',
    title: say('Reports not signed yet'),
    empty: say('No report is open.'),
    total,
    items: rows.map((report) => ({
      id: report.id,
      label: report.permit.number,
      scientificName: null,
      note: say('{at} to {at2}, {state}', {
        at: sayAt(report.fromOn),
        at2: sayAt(report.toOn),
        state: report.state,
      }),
      tone: 'neutral',
      href: paths.report(report.id),
    })),
    href: paths.reports,
  };
}

async function accessionPile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findSalvages(actor.collectionId, { state: 'accepted', accessionId: null });
  return {
    id: 'accessions',
    title: say('Accepted, in no accession yet'),
    empty: say('Every accepted bird is in an accession.'),
    total,
    items: rows.map((row) => salvageItem(row, say('arrived {at}', { at: sayAt(row.receivedOn) }), 'neutral')),
    href: paths.accessionNew,
  };
}

type LoanRow = Awaited<ReturnType<typeof findLoans>>['rows'][number];
const loanItem = (loan: LoanRow, note: string, tone: DeskItem['tone']): DeskItem => ({
  id: loan.id,
  label: loan.number,
  scientificName: null,
  note,
  tone,
  href: paths.loan(loan.id),
});

async function decisionPile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findLoans(actor.collectionId, {
    state: { in: ['asked', 'in-review'] },
    askedById: { not: actor.personId },
  });
  return {
    id: 'loan-decisions',
    title: say('Loans to decide'),
    empty: say('No loan waits for a decision.'),
    total,
    items: rows.map((loan) => loanItem(loan, `${loan.borrower.institution}: ${loan.purpose}`, 'neutral')),
    href: paths.loans,
  };
}

async function loanPile(actor: Actor, { today, at }: Day): Promise<DeskPile> {
  const { total, rows } = await findLoans(actor.collectionId, {
    OR: [
      { state: { in: ['granted', 'packed'] } },
      {
        state: { in: ['sent', 'received', 'partly-back'] },
        dueOn: { lte: new Date(at.getTime() + LOAN_AHEAD_DAYS * DAY_MS) },
      },
    ],
  });
  return {
    id: 'loans',
    title: say('Loans to pack, or due'),
    empty: say('No loan needs you today.'),
    total,
    items: rows.map((loan) => {
      const due = loan.dueOn === null ? null : dayOf(loan.dueOn);
      const overdue = due !== null && due < today && loan.state !== 'granted' && loan.state !== 'packed';
      return loanItem(
        loan,
        `${loan.borrower.institution}, ${overdue ? say('overdue since {day}', { day: sayDay(due) }) : loan.state}`,
        overdue ? 'stop' : 'neutral',
      );
    }),
    href: paths.loans,
  };
}

async function overduePile(actor: Actor, { at }: Day): Promise<DeskPile> {
  const { total, rows } = await findOverdueSteps(actor.collectionId, at);
  return {
    id: 'overdue',
    title: say('Cleaning and drying, overdue'),
    empty: say('Nothing is overdue.'),
    total,
    items: rows.map(({ id, material, step, dueAt }) => ({
      id,
      label: labelOf(material),
      scientificName: material.bird.taxon?.scientificName ?? null,
      note: say('{step}, due {at}', {
        step: sayCode(step),
        at: dueAt === null ? '' : sayAt(dueAt),
      }),
      tone: 'attention',
      href: paths.material(material.id),
    })),
    href: paths.skeletons,
  };
}

async function unqueuedPile(actor: Actor): Promise<DeskPile> {
  const { total, rows } = await findBirds(
    actor.collectionId,
    { state: { in: ['in-custody', 'in-freezer'] }, salvage: { accessionId: { not: null } } },
    { createdAt: 'asc' },
  );
  return {
    id: 'unqueued',
    title: say('Accessioned, not queued yet'),
    empty: say('Every accessioned bird is queued.'),
    total,
    items: rows.map((bird) => birdItem(bird, say('choose its preparation'))),
    href: `${paths.queue}#not-queued`,
  };
}
