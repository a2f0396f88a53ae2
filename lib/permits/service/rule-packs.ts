import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { permitEvents } from '../events';
import { loadRulePack, RulePackError } from '../packs/load';
import { permitAbilitiesOf } from '../policy';
import { findPack, findPacks, lockPack, type PackFound, updatePack } from '../repo/law';
import type { ConfirmRuleRequest, PackEntry, PackRecord, PackRow, PermitDefault } from '../wire';
import {
  addPack,
  confirmationsOf,
  ensureShippedPacks,
  entriesOf,
  packOf,
  packsInForce,
  tellLawChanged,
} from './law';

/** The rule packs of the collection, every version; those that ship are loaded at first use. */
export async function listPacks(actor: Actor) {
  authorise(actor, 'permits.see');
  await ensureShippedPacks(actor.collectionId);
  const rows = await findPacks(db(), actor.collectionId);
  const inForce = new Set(packsInForce(rows).map(({ id }) => id));
  return { rows: rows.map((row) => toRow(row, inForce.has(row.id))), abilities: permitAbilitiesOf(actor) };
}

export async function showPack(actor: Actor, id: string): Promise<PackRecord> {
  authorise(actor, 'permits.see');
  return loadRecord(db(), actor, id);
}

/** Clauses that the packs in force know for new permits, to begin a form with; the document decides. */
export async function listPermitDefaults(actor: Actor): Promise<PermitDefault[]> {
  authorise(actor, 'permits.manage');
  await ensureShippedPacks(actor.collectionId);
  return packsInForce(await findPacks(db(), actor.collectionId)).flatMap((row) =>
    packOf(row).permitDefaults.map(({ id, text, cite, permitKinds, clauses }) => ({
      id,
      text,
      cite,
      kinds: permitKinds,
      clauses,
    })),
  );
}

/**
 * Loads a rule pack, or a new version of one, from its file. It is checked and its own examples are worked out first.
 * @throws AppError not-valid with one line for each thing to mend.
 */
export async function loadPack(
  context: CommandContext,
  { fileName, text }: { fileName: string; text: string },
): Promise<PackRecord> {
  const { actor } = context;
  authorise(actor, 'permits.manage');
  const pack = readPack(text, fileName);
  await ensureShippedPacks(actor.collectionId);
  return withTx(context, async (work) => {
    const rows = await findPacks(work.db, actor.collectionId);
    if (rows.some((row) => row.key === pack.packId && row.version === pack.version)) {
      throw conflict(
        say('Version {version} of {packId} is loaded already. Give the changed pack a new version.', {
          version: pack.version,
          packId: pack.packId,
        }),
      );
    }
    const id = await addPack(work, pack, personOf(actor));
    tellLawChanged(work, `rule pack ${pack.packId} ${pack.version} was loaded`);
    return loadRecord(work.db, actor, id);
  });
}

function readPack(text: string, fileName: string) {
  try {
    return loadRulePack(text, fileName);
  } catch (error) {
    if (!(error instanceof RulePackError)) throw error;
    throw notValid(
      say('The rule pack {fileName} was not loaded.', { fileName }),
      error.problems.map((message) => ({ path: 'text', message })),
    );
  }
}

/** Takes a version out of use, or into use again. */
export async function switchPack(
  context: CommandContext,
  id: string,
  { active, reason }: { active: boolean; reason: string },
): Promise<PackRecord> {
  const { actor } = context;
  authorise(actor, 'permits.manage');
  return withTx(context, async (work) => {
    const row = await lockPack(work.db, actor.collectionId, id);
    if (row === null) throw notFound(say('This rule pack'));
    if (row.active === active)
      throw conflict(
        active ? say('This version is in use already.') : say('This version is out of use already.'),
      );
    await updatePack(work.db, id, { active });
    work.audit(
      permitEvents.make(
        'permits.pack-switched',
        { subjectType: 'rule-pack', subjectId: id, reason },
        { pack: row.title, version: row.version, active },
      ),
    );
    tellLawChanged(work, `rule pack ${row.key} was switched`);
    return loadRecord(work.db, actor, id);
  });
}

/** An officer confirms a recalled rule after reading it at its source, or takes the confirmation back. */
export async function confirmRule(
  context: CommandContext,
  id: string,
  { ruleId, confirmed, note }: ConfirmRuleRequest,
): Promise<PackRecord> {
  const { actor } = context;
  authorise(actor, 'coverage.rule');
  return withTx(context, async (work) => {
    const row = await lockPack(work.db, actor.collectionId, id);
    if (row === null) throw notFound(say('This rule pack'));
    const entry = entriesOf(packOf(row)).find((one) => one.id === ruleId);
    if (entry === undefined) throw notFound(say('This rule'));
    const before = confirmationsOf(row);
    if (ruleId in before === confirmed) {
      throw conflict(confirmed ? say('This rule is confirmed already.') : say('This rule is not confirmed.'));
    }
    const { [ruleId]: _, ...others } = before;
    const own = { by: actor.name, byId: personOf(actor), at: work.now.toISOString(), note };
    await updatePack(work.db, id, { confirmations: confirmed ? { ...others, [ruleId]: own } : others });
    const subject = { subjectType: 'rule-pack', subjectId: id, reason: note };
    const facts = { pack: row.title, version: row.version, rule: ruleId };
    work.audit(
      confirmed
        ? permitEvents.make('permits.rule-confirmed', subject, { ...facts, cite: entry.cite })
        : permitEvents.make('permits.rule-doubted', subject, facts),
    );
    tellLawChanged(work, confirmed ? `rule ${ruleId} was confirmed` : `rule ${ruleId} was put in doubt`);
    return loadRecord(work.db, actor, id);
  });
}

const isUnverified = (row: PackFound, entry: { id: string; mark: string }) =>
  entry.mark === 'recalled' && !(entry.id in confirmationsOf(row));

function toRow(row: PackFound, inForce: boolean): PackRow {
  const pack = packOf(row);
  const entries = entriesOf(pack);
  return {
    id: row.id,
    key: row.key,
    version: row.version,
    title: row.title,
    jurisdiction: pack.jurisdiction,
    active: row.active,
    inForce,
    entries: entries.length,
    unverified: entries.filter((entry) => isUnverified(row, entry)).length,
    loadedAt: row.loadedAt.toISOString(),
  };
}

async function loadRecord(tx: Tx, actor: Actor, id: string): Promise<PackRecord> {
  const row = await findPack(tx, actor.collectionId, id);
  if (row === null) throw notFound(say('This rule pack'));
  const rows = await findPacks(tx, actor.collectionId);
  const pack = packOf(row);
  const confirmations = confirmationsOf(row);
  return {
    ...toRow(
      row,
      packsInForce(rows).some((one) => one.id === id),
    ),
    caution: pack.caution,
    explanation: pack.explanation,
    list: entriesOf(pack).map((entry): PackEntry => {
      const confirmed = confirmations[entry.id];
      return {
        id: entry.id,
        kind: entry.kind,
        text: entry.text,
        cite: entry.cite,
        date: entry.date,
        mark: entry.mark,
        unverified: isUnverified(row, entry),
        confirmed:
          confirmed === undefined ? null : { by: confirmed.by, at: confirmed.at, note: confirmed.note },
      };
    }),
    abilities: permitAbilitiesOf(actor),
  };
}
