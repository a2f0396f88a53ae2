import 'server-only';
import { isDeepStrictEqual } from 'node:util';
import {
  type CoverageResult,
  type CoverageSources,
  checkCoverage,
  ensureShippedPacks,
  loadCoverageSources,
} from '@/lib/permits/public';
import { type CommandContext, personOf, systemActor } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { conflict, notFound } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { salvageEvents } from '../events';
import {
  type Find,
  findCheckable,
  findNames,
  findPermitNumber,
  findRecords,
  keepVerdict,
  NO_RULING,
  takeTurn,
} from '../repo/records';
import { toCoverageFacts } from '../rules/find-facts';
import type { RulingRequest } from '../schema';
import { type StoredCoverage, storedCoverage } from '../stored-coverage';
import { type SalvageRecord, storedRuling } from '../wire';
import { type Groups, loadGroups } from './groups';
import { addHold, type CheckCause, holdsWantedBy, settleState, syncHolds, type WantedHold } from './holds';
import { load, onRecord, save, subjectOf, todayOf } from './load';
import { factsOf, openKinds, taxonOf } from './shape';

type Bench = { sources: CoverageSources; groups: Groups; today: string; names: Map<string, string> };

/**
 * Checks a find against permits, packs and lists as they stand, and with it every find of the same event: the fifth
 * bird of a place and day holds the first four too. Call inside the turn of the collection.
 */
export async function checkFind(work: Work, id: string, cause: CheckCause, always = false): Promise<void> {
  const { collectionId } = work.actor;
  const find = await load(work.db, collectionId, id);
  const groups = await loadGroups(work.db, collectionId, { from: find.foundFrom, to: find.foundTo });
  const others = await findRecords(
    work.db,
    collectionId,
    (groups.eventOf(id)?.findIds ?? []).filter((other) => other !== id),
  );
  const bench = await prepare(work, groups, [find, ...others]);
  await judge(work, find, bench, cause, always);
  for (const other of others) await judge(work, other, bench, 'facts', false);
}

async function prepare(work: Work, groups: Groups, finds: readonly Find[]): Promise<Bench> {
  const today = await todayOf(work);
  return {
    today,
    groups,
    sources: await loadCoverageSources(work.db, work.actor.collectionId, {
      today,
      found: finds.flatMap((find) => [dayOf(find.foundFrom), dayOf(find.foundTo)]),
    }),
    names: await findNames(
      work.db,
      finds.map((find) => factsOf(find).finderPersonId),
    ),
  };
}

/** Judges one find and keeps what came out. Returns whether anything changed. */
async function judge(
  work: Work,
  find: Find,
  bench: Bench,
  cause: CheckCause,
  always: boolean,
): Promise<boolean> {
  const event = eventHold(find, bench.groups);
  // Without the finder's name the same find would be judged worse: the last check stands.
  if (find.finder?.erasedAt != null) {
    const held = event !== null && (await syncHolds(work, find, [event], 'facts'));
    if (held) await settle(work, find.id);
    return held;
  }
  const { result, groupSize } = ask(find, bench);
  const detail: StoredCoverage = { checkedAt: work.now.toISOString(), groupSize, result };
  const ruling = storedRuling.safeParse(find.coverageRuling).data ?? null;
  const verdict = ruling?.verdict ?? result.verdict;
  const counted = result.authority?.kind === 'permit' ? result.authority.id : null;
  const permitId =
    ruling === null ? counted : ruling.verdict === 'covered' ? (ruling.permitId ?? counted) : null;
  const authorityKey = result.authority?.kind === 'permit' ? null : (result.authority?.id ?? null);
  const changed = verdict !== find.coverage || permitId !== find.permitId || !sameResult(find, detail);
  if (changed || always) {
    await keepVerdict(work.db, find.id, {
      coverage: verdict,
      coverageDetail: detail,
      permitId,
      authorityKey,
    });
  }
  if (verdict !== find.coverage || permitId !== find.permitId || always) {
    work.audit(
      salvageEvents.make('salvage.coverage-checked', subjectOf(find), {
        number: find.number,
        from: find.coverage,
        to: verdict,
        authority: result.authority?.title ?? null,
        reasons: result.reasons.filter(({ outcome }) => outcome !== 'pass').map(({ code }) => code),
      }),
    );
  }
  const wanted = holdsWantedBy(result).filter(
    ({ kind }) => ruling?.verdict !== 'covered' || kind !== 'quarantine',
  );
  if (event !== null && !wanted.some(({ kind }) => kind === 'event')) wanted.push(event);
  const held = await syncHolds(work, find, wanted, cause);
  if (held) await settle(work, find.id);
  return changed || held;
}

const settle = async (work: Work, id: string) =>
  settleState(work, await load(work.db, work.actor.collectionId, id));

function ask(find: Find, bench: Bench): { result: CoverageResult; groupSize: number } {
  const { sources, groups, today, names } = bench;
  const facts = factsOf(find);
  const groupSize = groups.sizeOf(find.id, find.quantity);
  const { finder } = find;
  const result = checkCoverage(
    toCoverageFacts(
      {
        foundFrom: dayOf(find.foundFrom),
        foundTo: dayOf(find.foundTo),
        receivedOn: dayOf(find.receivedOn),
        country: find.country,
        stateProvince: find.stateProvince,
        county: find.county,
        specimenType: find.specimenType,
        quantity: find.quantity,
        bandNumber: find.bandNumber,
        bandReportedOn: find.bandReportedOn === null ? null : dayOf(find.bandReportedOn),
        diseaseSigns: find.diseaseSigns,
        suspectedIllegal: find.suspectedIllegal,
        facts,
        taxon: taxonOf(find),
        finder: {
          name: finder?.name ?? names.get(facts.finderPersonId ?? '') ?? null,
          reachable:
            finder !== null &&
            [finder.email, finder.phone, finder.address, finder.contactExpiredAt].some((way) => way !== null),
        },
      },
      groupSize,
    ),
    sources.permits,
    sources.packs,
    sources.protectedStatus,
    {
      today,
      counted: sources.counted.filter(({ salvageId }) => salvageId !== find.id),
      overdueReports: sources.overdueReports,
      confirmedRuleIds: sources.confirmedRuleIds,
    },
  );
  // Of the authorities that were not chosen only what speaks against them is kept.
  const others = result.others.map((other) => ({
    ...other,
    reasons: other.reasons.filter(({ outcome }) => outcome === 'attention' || outcome === 'fail'),
  }));
  return { result: { ...result, others }, groupSize };
}

function sameResult(find: Find, detail: StoredCoverage): boolean {
  const before = storedCoverage.safeParse(find.coverageDetail).data;
  return (
    before !== undefined &&
    isDeepStrictEqual(before.result, detail.result) &&
    before.groupSize === detail.groupSize
  );
}

/** Several dead birds at one place are held whatever the pack of that country says. */
function eventHold(find: Find, groups: Groups): WantedHold | null {
  const event = groups.eventOf(find.id);
  if (event === null) return null;
  const when =
    event.fromOn === event.untilOn
      ? event.fromOn
      : say('{fromOn} to {untilOn}', { fromOn: event.fromOn, untilOn: event.untilOn });
  const sure = event.certainty === 'certain';
  return {
    kind: 'event',
    reason: `${sure ? '' : 'Perhaps '}${event.birds} dead birds at one place on ${when}`.trim(),
    ruleCode: 'several-dead',
    tellWhom: 'wildlife law enforcement',
  };
}

/** Checks one find again, now. */
export async function recheckFind(
  context: CommandContext,
  id: string,
  { version }: { version: number },
): Promise<SalvageRecord> {
  await ensureShippedPacks(context.actor.collectionId);
  return onRecord(context, id, { permission: 'salvage.triage', version }, async (work, find) => {
    if (find.finder?.erasedAt != null) {
      throw conflict(
        say('The finder’s data were erased, so the last check stands. The permit officer can rule on it.'),
      );
    }
    await checkFind(work, id, 'facts', true);
  });
}

const CHUNK = 200;

/** Checks every find of a collection after the law or a permit changed; returns how many verdicts changed. */
export async function recheckAll(collectionId: string, because: string): Promise<number> {
  const context = { actor: systemActor(collectionId) };
  const ids = await findCheckable(db(), collectionId);
  const groups = await loadGroups(db(), collectionId);
  let changedAtAll = 0;
  for (let start = 0; start < ids.length; start += CHUNK) {
    const chunk = ids.slice(start, start + CHUNK);
    changedAtAll += await withTx(context, async (work) => {
      await takeTurn(work.db, collectionId);
      const finds = await findRecords(work.db, collectionId, chunk);
      const bench = await prepare(work, groups, finds);
      let changed = 0;
      for (const find of finds) if (await judge(work, find, bench, 'law', false)) changed += 1;
      if (changed > 0) {
        work.audit(
          salvageEvents.make(
            'salvage.coverage-rechecked',
            { subjectType: 'collection', subjectId: collectionId },
            { because, records: finds.length, changed },
          ),
        );
      }
      return changed;
    });
  }
  return changedAtAll;
}

/**
 * An officer's word stands in the place of the check's verdict until the facts change or it is taken back. A bird that is
 * not covered goes on legal hold.
 */
export function ruleOnFind(
  context: CommandContext,
  id: string,
  request: RulingRequest,
): Promise<SalvageRecord> {
  return onRecord(
    context,
    id,
    { permission: 'coverage.rule', version: request.version },
    async (work, find) => {
      const { verdict, permitId, cite, reason } = request;
      const permit =
        permitId === null ? null : await findPermitNumber(work.db, work.actor.collectionId, permitId);
      if (permitId !== null && permit === null) throw notFound(say('The permit of the ruling'));
      const ruling = {
        verdict,
        permitId,
        cite,
        reason,
        by: work.actor.name,
        byId: personOf(work.actor),
        at: work.now.toISOString(),
      };
      await save(work, find, {
        coverageRuling: ruling,
        coverage: verdict,
        // A find nobody can check any more still counts where the officer says.
        ...(find.finder?.erasedAt == null ? {} : { permitId: verdict === 'covered' ? permitId : null }),
      });
      work.audit(
        salvageEvents.make('salvage.ruled', subjectOf(find, reason), {
          number: find.number,
          verdict,
          cite,
          permit: permit?.number ?? null,
        }),
      );
      if (verdict === 'not-covered' && !openKinds(find).includes('legal')) {
        const hold = {
          kind: 'legal' as const,
          reason: `Ruled not covered: ${reason}`,
          ruleCode: null,
          tellWhom: null,
        };
        await addHold(work, find, { ...hold, placedBy: personOf(work.actor) });
      }
      await checkFind(work, id, 'ruling');
    },
  );
}

/** Takes a ruling back: the check's own verdict stands again. */
export function endRuling(
  context: CommandContext,
  id: string,
  { version, reason }: { version: number; reason: string },
): Promise<SalvageRecord> {
  return onRecord(context, id, { permission: 'coverage.rule', version }, async (work, find) => {
    const ruling = storedRuling.safeParse(find.coverageRuling).data;
    if (ruling === undefined) throw conflict(say('There is no ruling on this record.'));
    await save(work, find, { coverageRuling: NO_RULING });
    work.audit(
      salvageEvents.make('salvage.ruling-ended', subjectOf(find, reason), {
        number: find.number,
        verdict: ruling.verdict,
      }),
    );
    await checkFind(work, id, 'facts');
  });
}
