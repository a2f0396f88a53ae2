import { daysBetween } from '@/lib/platform/days';
import { say, sayCode } from '@/lib/platform/words/say';
import type { CustodyState } from '@/lib/queue/schema';
import type {
  BorderCondition,
  BorderPack,
  BorderRule,
  LineOutcome,
  LinkState,
  LoanExtension,
  LoanKind,
  LoanLine,
  LoanSettings,
  LoanState,
  ParcelFacts,
} from './schema';

export const LOAN_ACTS = [
  'take-into-review',
  'grant',
  'decline',
  'withdraw',
  'pack',
  'unpack',
  'send',
  'confirm-receipt',
  'take-back',
  'extend',
  'close',
] as const;
export type LoanAct = (typeof LOAN_ACTS)[number];

/** The one table of loans: act → from → to. What is not in it is forbidden; the database has the same. */
export const LOAN_TRANSITIONS: Record<LoanAct, Partial<Record<LoanState, LoanState>>> = {
  'take-into-review': { asked: 'in-review' },
  grant: { 'in-review': 'granted' },
  decline: { 'in-review': 'declined' },
  // By the borrower, before anything has left.
  withdraw: { asked: 'closed', 'in-review': 'closed', granted: 'closed' },
  pack: { granted: 'packed' },
  unpack: { packed: 'granted' },
  send: { packed: 'sent' },
  'confirm-receipt': { sent: 'received' },
  // Lines settled (returned, consumed, lost) while others are still out.
  'take-back': { sent: 'partly-back', received: 'partly-back', 'partly-back': 'partly-back' },
  extend: { sent: 'sent', received: 'received', 'partly-back': 'partly-back' },
  // Only with a balance of zero.
  close: { sent: 'closed', received: 'closed', 'partly-back': 'closed' },
};

export type Refusal = { ok: false; code: string; reason: string };
export type LoanMove = { ok: true; to: LoanState } | Refusal;

const refuse = (code: string, reason: string): Refusal => ({ ok: false, code, reason });

export type LoanBalance = { sent: number; returned: number; consumed: number; lost: number; out: number };

/** Balance of a loan in materials: out = sent − returned − consumed − lost. */
export function loanBalance(lines: readonly Pick<LoanLine, 'sentOn' | 'outcome'>[]): LoanBalance {
  const sent = lines.filter((line) => line.sentOn !== null);
  const count = (outcome: LineOutcome) => sent.filter((line) => line.outcome === outcome).length;
  const [returned, consumed, lost] = [count('returned'), count('consumed'), count('lost')];
  return { sent: sent.length, returned, consumed, lost, out: sent.length - returned - consumed - lost };
}

export type LoanFacts = {
  state: LoanState;
  lines: readonly Pick<LoanLine, 'lineId' | 'sentOn' | 'outcome'>[];
  /** Who asked, where that is a member of staff; for separation of duties. */
  askedById: string | null;
  /** Documents that the parcel needs and that are not there yet, by name. */
  missingDocuments: readonly string[];
  dueOn: string | null;
};

/** Whether a loan may take this step now, done by this person. Never throws; a refusal says why. */
export function moveLoan(loan: LoanFacts, act: LoanAct, actorId: string): LoanMove {
  const to = LOAN_TRANSITIONS[act][loan.state];
  if (to === undefined)
    return refuse(
      'not-from-here',
      say('A loan that is {words} cannot {words2}.', { words: sayCode(loan.state), words2: sayCode(act) }),
    );
  if ((act === 'grant' || act === 'decline') && loan.askedById === actorId)
    return refuse('own-request', say('Nobody decides on their own request: another curator must.'));
  if ((act === 'grant' || act === 'pack') && loan.lines.length === 0)
    return refuse('no-lines', say('No material is chosen for it yet.'));
  if (act === 'send' && loan.missingDocuments.length > 0)
    return refuse(
      'documents-missing',
      say('Before it leaves: {missingDocuments}.', { missingDocuments: loan.missingDocuments.join('; ') }),
    );
  if (act === 'send' && loan.dueOn === null) return refuse('no-due-date', say('Say when it is due back.'));
  const { out } = loanBalance(loan.lines);
  if (act === 'close' && out > 0)
    return refuse(
      'still-out',
      out === 1
        ? say('{out} material is still out.', { out })
        : say('{out} materials are still out.', { out }),
    );
  if (act === 'take-back' && out === 0)
    return refuse('nothing-out', say('Nothing is out any more: close the loan.'));
  return { ok: true, to };
}

/** Whether the materials of a request may still be chosen: until it is decided upon. */
export const mayChoose = (state: LoanState): boolean => state === 'asked' || state === 'in-review';

/** What an outside borrower's link is at an instant. Ended comes first: it shows nothing even of a request. */
export function linkState(
  link: { revokedAt: Date | null; expiresAt: Date; loan: object | null },
  at: Date,
): LinkState {
  if (link.revokedAt !== null) return 'ended';
  if (link.expiresAt <= at) return 'expired';
  return link.loan === null ? 'open' : 'sent';
}

/** The steps open to this person now, in the order of the table. */
export const loanActs = (loan: LoanFacts, actorId: string): LoanAct[] =>
  LOAN_ACTS.filter((act) => moveLoan(loan, act, actorId).ok);

export type Settlement = { lineId: string; outcome: LineOutcome; on: string };

/**
 * Settles lines of a loan that is out: which come back, were consumed, are lost. All or none. The state it then has is
 * closed when nothing is left out, partly back otherwise.
 */
export function settleLines(
  loan: Pick<LoanFacts, 'state'> & { kind: LoanKind; lines: readonly LoanLine[] },
  settlements: readonly Settlement[],
): { ok: true; lines: LoanLine[]; to: LoanState } | Refusal {
  if (LOAN_TRANSITIONS['take-back'][loan.state] === undefined)
    return refuse(
      'not-from-here',
      say('A loan that is {words} has nothing out.', { words: sayCode(loan.state) }),
    );
  if (settlements.length === 0) return refuse('nothing-said', say('Say which lines came back.'));
  const chosen = new Map(settlements.map((one) => [one.lineId, one]));
  if (chosen.size !== settlements.length)
    return refuse('line-twice', say('A line can be settled once only.'));
  for (const { lineId, outcome, on } of settlements) {
    const line = loan.lines.find((one) => one.lineId === lineId);
    if (line === undefined) return refuse('no-such-line', say('That material is not on this loan.'));
    if (line.sentOn === null) return refuse('not-sent', say('That material was never sent.'));
    if (line.outcome !== null)
      return refuse(
        'settled',
        say('That material is settled already: {outcome}.', { outcome: line.outcome }),
      );
    if (on < line.sentOn)
      return refuse(
        'before-sent',
        say('It was sent on {sentOn}: not settled before.', { sentOn: line.sentOn }),
      );
    if (outcome === 'consumed' && loan.kind !== 'grant')
      return refuse('not-a-grant', say('Only a grant may be consumed; a loan comes back or is lost.'));
  }
  const lines = loan.lines.map((line): LoanLine => {
    const settled = chosen.get(line.lineId);
    return settled ? { ...line, outcome: settled.outcome, outcomeOn: settled.on } : line;
  });
  return { ok: true, lines, to: loanBalance(lines).out === 0 ? 'closed' : 'partly-back' };
}

const isOut = (state: LoanState) => LOAN_TRANSITIONS.extend[state] !== undefined;

/** Whole days past the due date; 0 when it is not overdue, nothing is out or no date is set. */
export function overdueDays(loan: { state: LoanState; dueOn: string | null }, today: string): number {
  return loan.dueOn === null || !isOut(loan.state) ? 0 : Math.max(0, daysBetween(loan.dueOn, today));
}

export type Reminder = { key: string; kind: 'due-soon' | 'overdue'; days: number };

/**
 * The reminder to send today, or null: only the latest that is due, so that a server that slept sends one and not a
 * pile. `sentKeys` are the keys of those sent already; a new due date makes new keys.
 */
export function dueReminder(
  loan: { state: LoanState; dueOn: string | null },
  today: string,
  sentKeys: readonly string[],
  settings: LoanSettings,
): Reminder | null {
  if (loan.dueOn === null || !isOut(loan.state)) return null;
  const late = daysBetween(loan.dueOn, today);
  const steps = [...settings.remindDaysBefore.map((days) => -days), ...settings.remindDaysAfter];
  const reached = steps.filter((step) => step <= late);
  if (reached.length === 0) return null;
  const step = Math.max(...reached);
  const key = `${loan.dueOn}:${step}`;
  if (sentKeys.includes(key)) return null;
  return { key, kind: late > 0 ? 'overdue' : 'due-soon', days: Math.abs(late) };
}

export type ExtensionAsked = { askedOn: string; toDueOn: string };

/**
 * Whether a loan may be extended in writing. Usual terms (a university museum's published loan conditions): asked two
 * weeks before it is due, up to a year; asked later is allowed and said to be late.
 */
export function mayExtend(
  loan: Pick<LoanFacts, 'state' | 'dueOn'> & { extensions: readonly LoanExtension[] },
  asked: ExtensionAsked,
  settings: LoanSettings,
): { ok: true; isLate: boolean; note: string | null } | Refusal {
  if (!isOut(loan.state))
    return refuse(
      'not-out',
      say('A loan that is {words} cannot be extended.', { words: sayCode(loan.state) }),
    );
  if (loan.dueOn === null) return refuse('no-due-date', say('It has no due date to extend.'));
  if (asked.toDueOn <= loan.dueOn)
    return refuse('not-later', say('It is due on {dueOn} already.', { dueOn: loan.dueOn }));
  if (loan.extensions.length >= settings.maxExtensions)
    return refuse(
      'too-many',
      say('It has been extended {length} times: ask for it back first.', { length: loan.extensions.length }),
    );
  const longer = daysBetween(loan.dueOn, asked.toDueOn);
  if (longer > settings.longestDays)
    return refuse(
      'too-long',
      say('An extension is for at most {longestDays} days, not {longer}.', {
        longestDays: settings.longestDays,
        longer,
      }),
    );
  const ahead = daysBetween(asked.askedOn, loan.dueOn);
  const isLate = ahead < settings.extensionAskedDaysAhead;
  const note = isLate
    ? say('Asked {x} it was due; the terms say {extensionAskedDaysAhead} days before.', {
        x: ahead >= 0 ? say('{ahead} days before', { ahead }) : say('{x} days after', { x: -ahead }),
        extensionAskedDaysAhead: settings.extensionAskedDaysAhead,
      })
    : null;
  return { ok: true, isLate, note };
}

function conditionHolds(when: BorderCondition, parcel: ParcelFacts): boolean {
  const ends = [parcel.fromCountry, parcel.toCountry];
  const anyOf = (wanted: readonly string[] | undefined, have: readonly string[]) =>
    wanted === undefined || have.some((country) => wanted.includes(country));
  const is = (wanted: boolean | undefined, fact: boolean) => wanted === undefined || wanted === fact;
  return (
    is(when.crossesBorder, parcel.fromCountry !== parcel.toCountry) &&
    anyOf(when.fromAnyOf, [parcel.fromCountry]) &&
    anyOf(when.toAnyOf, [parcel.toCountry]) &&
    anyOf(when.touchesAnyOf, ends) &&
    is(
      when.originAbroad,
      parcel.originCountries.some((country) => country !== parcel.toCountry),
    ) &&
    is(when.anyCitesListed, parcel.anyCitesListed) &&
    is(when.bothRegisteredWithCites, parcel.bothRegisteredWithCites) &&
    is(when.anyMigratoryBirdAct, parcel.anyMigratoryBirdAct) &&
    is(when.anyWildBirdOfEu, parcel.anyWildBirdOfEu) &&
    is(when.anyTissue, parcel.anyTissue)
  );
}

/** The documents that a parcel's borders ask for, each with its citation, and the caution that goes with the list. */
export function borderDocuments(
  parcel: ParcelFacts,
  pack: BorderPack,
): { caution: string; documents: BorderRule[] } {
  return { caution: pack.caution, documents: pack.rules.filter((rule) => conditionHolds(rule.when, parcel)) };
}

/** What makes a material unfit to be put on a loan; empty when it may go. */
export function lendingProblems(material: {
  custody: CustodyState;
  openLoanNumber: string | null;
  holds: readonly string[];
  isCatalogued: boolean;
  samplingForbidden: boolean;
  loanKind: LoanKind;
}): string[] {
  return [
    ...(material.custody === 'on-shelf' ? [] : [say('It is {words}.', { words: sayCode(material.custody) })]),
    ...(material.openLoanNumber === null
      ? []
      : [say('It is on loan {openLoanNumber} already.', { openLoanNumber: material.openLoanNumber })]),
    ...material.holds.map((hold) => say('On hold: {hold}.', { hold })),
    ...(material.isCatalogued ? [] : [say('It is not catalogued yet.')]),
    ...(material.loanKind === 'grant' && material.samplingForbidden
      ? [say('Sampling it needs a separate authorisation.')]
      : []),
  ];
}

/** The papers that a parcel still lacks before it may leave, by name. */
export const missingDocuments = (
  asked: readonly BorderRule[],
  there: readonly { ruleId: string; reference: string }[],
): string[] =>
  asked
    .filter(({ id }) => !there.some(({ ruleId, reference }) => ruleId === id && reference.trim() !== ''))
    .map(({ document }) => document);
