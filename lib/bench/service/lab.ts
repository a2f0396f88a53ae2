import 'server-only';
import { parse as parseCsv } from 'csv-parse/sync';
import type { z } from 'zod';
import { benchEvents } from '@/lib/bench/events';
import { FIELDS, NUMBER_FIELDS } from '@/lib/bench/fields';
import { findCollection, findNames, queueUp, writeSettings } from '@/lib/bench/repo/records';
import {
  deleteReferenceTable,
  findReferenceTable,
  findReferenceTables,
  findSavedStyles,
  insertStyle,
  replaceReferenceTable,
} from '@/lib/bench/repo/styles';
import { PREPARATION_STYLES } from '@/lib/bench/schema';
import { loadStyle } from '@/lib/bench/service/styles';
import { readBenchSettings } from '@/lib/bench/settings';
import { PREPARATION_STYLE_DATA } from '@/lib/bench/style-data';
import { preparationStyle } from '@/lib/bench/styles';
import type { LabSettings, labRequest, referenceRequest, saveStyleRequest } from '@/lib/bench/wire-lab';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { type FieldProblem, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { differences } from '@/lib/platform/events';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';

/** How this lab works: its styles, scales, clocks and the reference tables it compares with. */
export async function showLab(actor: Actor): Promise<LabSettings> {
  authorise(actor, 'bench.see');
  const { collectionId } = actor;
  const [saved, collection, references] = await Promise.all([
    findSavedStyles(db(), collectionId),
    findCollection(db(), collectionId),
    findReferenceTables(db(), collectionId),
  ]);
  const names = await findNames(
    db(),
    saved.map(({ savedById }) => savedById),
  );
  const { scales, clocks } = readBenchSettings(collection.settings);
  return {
    styles: PREPARATION_STYLES.map((id) => {
      const row = saved.find(({ styleId }) => styleId === id);
      const parsed = preparationStyle.safeParse(row?.data);
      if (row === undefined || !parsed.success) {
        return { style: PREPARATION_STYLE_DATA[id], savedAt: null, savedBy: null };
      }
      return {
        style: parsed.data,
        savedAt: row.savedAt.toISOString(),
        savedBy: names.get(row.savedById) ?? say('somebody who left'),
      };
    }),
    scales,
    clocks,
    references: references.map(({ loadedAt, ...table }) => ({ ...table, loadedAt: loadedAt.toISOString() })),
    mayChange: may(actor, 'bench.manage'),
  };
}

/**
 * Saves a style as its next version. Records that were begun keep the version they were begun with.
 * @throws AppError stale-version when somebody else saved the style meanwhile
 */
export async function saveStyle(
  context: CommandContext,
  { style }: z.output<typeof saveStyleRequest>,
): Promise<LabSettings> {
  const { actor } = context;
  authorise(actor, 'bench.manage');
  await withTx(context, async (work) => {
    await queueUp(work.db, `${actor.collectionId} ${style.id}`);
    const current = await loadStyle(work.db, actor.collectionId, style.id);
    if (current.version !== style.version) throw staleVersion(say('This style'), current);
    const next = { ...style, version: current.version + 1 };
    await insertStyle(work.db, actor.collectionId, next, { by: personOf(actor), at: work.now });
    work.audit(
      benchEvents.make(
        'bench.style-saved',
        { subjectType: 'collection', subjectId: actor.collectionId },
        { style: next.label, version: next.version },
      ),
    );
  });
  return showLab(actor);
}

/** Sets the lab's own scales and the length of its clocks. */
export async function changeLab(
  context: CommandContext,
  wanted: z.output<typeof labRequest>,
): Promise<LabSettings> {
  const { actor } = context;
  authorise(actor, 'bench.manage');
  await withTx(context, async (work) => {
    await queueUp(work.db, `${actor.collectionId} settings`);
    const { settings } = await findCollection(work.db, actor.collectionId);
    const before = readBenchSettings(settings);
    const changes = differences(
      { ...before.scales, ...before.clocks },
      { ...wanted.scales, ...wanted.clocks },
    );
    if (Object.keys(changes).length === 0) return;
    await writeSettings(work.db, actor.collectionId, wanted);
    work.audit(
      benchEvents.make(
        'bench.settings-changed',
        { subjectType: 'collection', subjectId: actor.collectionId },
        { changes },
      ),
    );
  });
  return showLab(actor);
}

const MOST_PROBLEMS = 20;

interface Measure {
  scientificName: string;
  field: string;
  value: number;
}

/** Reads a table of measures by species: a column scientificName, and number fields of the bench by their names. */
function readReference(csv: string): { measures: Measure[]; taxa: number } {
  let rows: Record<string, string>[];
  try {
    rows = parseCsv(csv, { columns: true, skip_empty_lines: true, trim: true, bom: true });
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : say('it is no CSV');
    throw notValid(say('The table could not be read.'), [{ path: 'csv', message: why }]);
  }
  const problems: FieldProblem[] = [];
  const known = NUMBER_FIELDS.filter((field) => rows[0] !== undefined && field in rows[0]);
  if (rows[0] === undefined || !('scientificName' in rows[0]) || known.length === 0) {
    throw notValid(say('The table could not be read.'), [
      {
        path: 'csv',
        message: say('It needs a column scientificName and at least one of {numberFields} …', {
          numberFields: NUMBER_FIELDS.slice(0, 6).join(', '),
        }),
      },
    ]);
  }
  const measures = new Map<string, Measure>();
  for (const [at, row] of rows.entries()) {
    const scientificName = row.scientificName ?? '';
    for (const field of known) {
      const text = row[field] ?? '';
      if (text === '' || text === 'NA') continue;
      const value = Number(text);
      const limits = FIELDS[field].limits;
      if (scientificName === '' || !Number.isFinite(value) || (limits && value > limits.max) || value <= 0) {
        problems.push({
          path: 'csv',
          message: say('Line {at}, {field}: "{text}" is no measure of a bird.', { at: at + 2, field, text }),
        });
      } else measures.set(`${scientificName}\t${field}`, { scientificName, field, value });
    }
  }
  if (problems.length > 0) throw notValid(say('Nothing was loaded.'), problems.slice(0, MOST_PROBLEMS));
  return {
    measures: [...measures.values()],
    taxa: new Set([...measures.values()].map((one) => one.scientificName)).size,
  };
}

/**
 * Loads published means by species, to hold measurements against; a table of the same title is replaced.
 * @throws AppError not-valid naming the lines that cannot be read, and then nothing is loaded
 */
export async function loadReferenceTable(
  context: CommandContext,
  { title, source, csv }: z.output<typeof referenceRequest>,
): Promise<LabSettings> {
  const { actor } = context;
  authorise(actor, 'bench.manage');
  const { measures, taxa } = readReference(csv);
  await withTx(context, async (work) => {
    const { collectionId } = actor;
    const loaded = { collectionId, title, source, loadedById: personOf(actor), loadedAt: work.now };
    const id = await replaceReferenceTable(work.db, loaded, measures);
    work.audit(
      benchEvents.make(
        'bench.reference-loaded',
        { subjectType: 'reference-table', subjectId: id },
        { title, taxa, measures: measures.length },
      ),
    );
  });
  return showLab(actor);
}

export async function removeReferenceTable(context: CommandContext, id: string): Promise<LabSettings> {
  const { actor } = context;
  authorise(actor, 'bench.manage');
  await withTx(context, async (work) => {
    const table = await findReferenceTable(work.db, actor.collectionId, id);
    if (table === null) throw notFound(say('This table'));
    await deleteReferenceTable(work.db, id);
    work.audit(
      benchEvents.make(
        'bench.reference-removed',
        { subjectType: 'reference-table', subjectId: id },
        { title: table.title },
      ),
    );
  });
  return showLab(actor);
}
