import 'server-only';
import { Readable } from 'node:stream';
import type { ReadableStream as WebStream } from 'node:stream/web';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { storageEvents } from '../events';
import { type FreezerSummary, readFreezerLog } from '../freezer-log';
import { findUnitNames } from '../repo/inventory';
import { findLog, findLogs, findOverlap, insertLog, type LogRecord } from '../repo/logs';
import { findStays } from '../repo/moves';
import { findUnits, type UnitRow } from '../repo/units';
import { judgeKineticMean } from '../temperature';
import { type LoadLogQuery, type LogRow, storedExcursions, storedGaps, storedRemarks } from '../wire-logs';
import { refused } from './unit-checks';

/**
 * Reads a temperature log in one pass as it arrives and keeps its excursions; the readings themselves are not kept.
 * A file with anything in it that cannot be trusted is refused whole, with its lines.
 * @param unitId the freezer; with `freezerColumn`, the file may also hold rows of other freezers, named by their codes
 */
export async function loadLog(
  context: CommandContext,
  unitId: string,
  query: LoadLogQuery,
  body: ReadableStream<Uint8Array> | null,
): Promise<{ rows: LogRow[] }> {
  const { actor } = context;
  authorise(actor, 'storage.manage');
  const units = await findUnits(db(), actor.collectionId);
  const unit = units.find((one) => one.id === unitId);
  if (unit === undefined) throw notFound(say('This place in the store'));
  if (unit.kind !== 'freezer' && unit.kind !== 'cabinet') {
    throw refused(
      'unitId',
      say('A temperature log belongs to a freezer or cabinet; {name} is a {kind}.', {
        name: unit.name,
        kind: unit.kind,
      }),
    );
  }
  if (body === null) throw refused('file', say('The file is empty.'));
  const thresholdsC = thresholdsOf(units, unit, query);
  const read = await readFreezerLog(Readable.fromWeb(body as WebStream<Uint8Array>), {
    columns: { time: query.timeColumn, temperature: query.temperatureColumn, freezer: query.freezerColumn },
    freezer: query.freezerColumn === undefined ? unit.code : undefined,
    unit: query.unit,
    utcOffset: query.utcOffset,
    thresholdsC,
    longestStepMinutes: query.longestStepMinutes,
  });
  if (!read.ok) {
    throw notValid(
      say('{fileName} was not taken: nothing of it was kept.', { fileName: query.fileName }),
      read.problems.map(({ line, message }) => ({
        path: `line ${line}`,
        message: say('Line {line}: {message}', { line, message }),
      })),
    );
  }
  const byCode = new Map(units.map((one) => [one.code, one]));
  return withTx(context, async (work) => {
    const rows: LogRow[] = [];
    for (const summary of read.freezers) {
      const freezer = byCode.get(summary.freezer);
      if (freezer === undefined) throw notFound(say('This freezer'));
      const thresholdC = thresholdsC.get(summary.freezer) ?? 0;
      rows.push(
        await keepLog(work, {
          freezer,
          summary,
          thresholdC,
          remarks: read.remarks,
          fileName: query.fileName,
        }),
      );
    }
    return { rows };
  });
}

function thresholdsOf(units: readonly UnitRow[], unit: UnitRow, query: LoadLogQuery): Map<string, number> {
  const own = query.thresholdC ?? unit.alarmAboveC;
  if (own === null) {
    throw refused(
      'thresholdC',
      say('Say above which temperature {name} is too warm, or set its alarm.', { name: unit.name }),
    );
  }
  const others = query.freezerColumn === undefined ? [] : units;
  const known = others.flatMap(({ code, alarmAboveC }) =>
    alarmAboveC === null ? [] : [[code, alarmAboveC] as const],
  );
  return new Map([...known, [unit.code, own]]);
}

async function keepLog(
  work: Work,
  input: {
    freezer: UnitRow;
    summary: FreezerSummary;
    thresholdC: number;
    remarks: { line: number; message: string }[];
    fileName: string;
  },
): Promise<LogRow> {
  const { freezer, summary, thresholdC, remarks, fileName } = input;
  const [fromAt, toAt] = [new Date(summary.firstAt), new Date(summary.lastAt)];
  const overlap = await findOverlap(work.db, freezer.id, fromAt, toAt);
  if (overlap !== null) {
    throw conflict(
      say(
        '{name} has a log for {toISOString} to {toISOString2} already ({fileName}). Its warm spells would count twice; nothing was kept.',
        {
          name: freezer.name,
          toISOString: overlap.fromAt.toISOString(),
          toISOString2: overlap.toAt.toISOString(),
          fileName: overlap.fileName,
        },
      ),
    );
  }
  const { isMeaningful } = judgeKineticMean(freezer.targetTempC);
  const made = await insertLog(work.db, {
    collectionId: work.actor.collectionId,
    unitId: freezer.id,
    fileName,
    fromAt,
    toAt,
    readings: summary.readings,
    thresholdC,
    coldestC: summary.coldestC,
    warmestC: summary.warmestC,
    meanC: summary.meanC,
    kineticMeanC: isMeaningful ? summary.kineticMeanC : null,
    minutesAbove: summary.minutesAbove,
    excursions: summary.excursions,
    gaps: summary.gaps,
    remarks,
    loadedById: personOf(work.actor),
    loadedAt: work.now,
  });
  work.audit(
    storageEvents.make(
      'storage.log-loaded',
      { subjectType: 'unit', subjectId: freezer.id },
      {
        freezer: freezer.name,
        fileName,
        fromAt: summary.firstAt,
        toAt: summary.lastAt,
        readings: summary.readings,
        excursions: summary.excursions.length,
      },
    ),
  );
  return toRow(made, freezer);
}

/** Temperature logs of a unit, newest first. @throws AppError not-found */
export async function listLogs(actor: Actor, unitId: string): Promise<{ rows: LogRow[]; mayLoad: boolean }> {
  authorise(actor, 'storage.see');
  const unit = (await findUnits(db(), actor.collectionId)).find((one) => one.id === unitId);
  if (unit === undefined) throw notFound(say('This place in the store'));
  const logs = await findLogs(db(), actor.collectionId, [unitId]);
  return { rows: logs.map((log) => toRow(log, unit)), mayLoad: may(actor, 'storage.manage') };
}

/** One log with the stays of materials in its freezer while it ran: what the tissues stage asks to find the exposed. */
export async function findLogStays(tx: Tx, collectionId: string, logId: string) {
  const log = await findLog(tx, collectionId, logId);
  if (log === null) throw notFound(say('This temperature log'));
  const [unit] = await findUnitNames(tx, [log.unitId]);
  const stays = await findStays(tx, log.unitId, log.fromAt, log.toAt);
  return {
    log: { id: log.id, unitId: log.unitId, unitName: unit?.name ?? '', fileName: log.fileName },
    excursions: storedExcursions.parse(log.excursions),
    stays: stays.map(({ materialId, fromAt, untilAt }) => ({
      materialId,
      fromAt: fromAt.toISOString(),
      untilAt: untilAt?.toISOString() ?? null,
    })),
  };
}

function toRow(log: LogRecord, unit: Pick<UnitRow, 'name' | 'targetTempC'>): LogRow {
  return {
    id: log.id,
    unitId: log.unitId,
    unitName: unit.name,
    fileName: log.fileName,
    fromAt: log.fromAt.toISOString(),
    toAt: log.toAt.toISOString(),
    readings: log.readings,
    thresholdC: log.thresholdC,
    coldestC: log.coldestC,
    warmestC: log.warmestC,
    meanC: log.meanC,
    kineticMeanC: log.kineticMeanC,
    kineticRemark: judgeKineticMean(unit.targetTempC).remark,
    minutesAbove: log.minutesAbove,
    excursions: storedExcursions.parse(log.excursions),
    gaps: storedGaps.parse(log.gaps),
    remarks: storedRemarks.parse(log.remarks),
    loadedAt: log.loadedAt.toISOString(),
  };
}
