import 'server-only';
import type { CommandContext } from '@/lib/platform/actor';
import { dateColumn, dayOf } from '@/lib/platform/clock';
import { conflict, notValid } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';
import { salvageEvents } from '../events';
import { insertCustody } from '../repo/records';
import type { HandOverRequest } from '../schema';
import type { SalvageRecord } from '../wire';
import { checkFind } from './coverage';
import { onRecord, save, subjectOf, todayOf } from './load';
import { THE_FINDER } from './shape';

/** Notes that a bird went from the hands it is in to others, so that the chain has no gap. */
export function handOver(
  context: CommandContext,
  id: string,
  request: HandOverRequest,
): Promise<SalvageRecord> {
  return onRecord(
    context,
    id,
    { permission: 'salvage.triage', version: request.version },
    async (work, find) => {
      const last = find.custody.at(-1);
      const from = last?.toWhom ?? THE_FINDER;
      const at = request.at === null ? work.now : new Date(request.at);
      const refuse = (message: string) => notValid(say('The step was not noted.'), [{ path: 'at', message }]);
      if (at > work.now) throw refuse(say('This moment has not come yet.'));
      if (last !== undefined && at < last.at)
        throw refuse(
          say('{from} had it only from {toISOString} on.', { from, toISOString: last.at.toISOString() }),
        );
      if (request.toWhom === from) {
        throw notValid(say('The step was not noted.'), [
          { path: 'toWhom', message: say('{from} has it already.', { from }) },
        ]);
      }
      await save(work, find, {});
      await insertCustody(work.db, {
        salvageId: id,
        at,
        fromWhom: from,
        toWhom: request.toWhom,
        note: request.note,
        recordedBy: work.actor.personId,
      });
      work.audit(
        salvageEvents.make('salvage.handed-over', subjectOf(find), {
          number: find.number,
          from,
          to: request.toWhom,
          at: at.toISOString(),
        }),
      );
    },
  );
}

/** Notes that the band or ring was reported to the scheme that issued it. */
export function reportBand(
  context: CommandContext,
  id: string,
  { version, reportedOn }: { version: number; reportedOn: string },
): Promise<SalvageRecord> {
  return onRecord(context, id, { permission: 'salvage.triage', version }, async (work, find) => {
    if (find.bandNumber === null)
      throw conflict(say('{number} has no band number.', { number: find.number }));
    const refuse = (message: string) =>
      notValid(say('The report was not noted.'), [{ path: 'reportedOn', message }]);
    if (reportedOn > (await todayOf(work))) throw refuse(say('This day has not come yet.'));
    if (reportedOn < dayOf(find.foundFrom))
      throw refuse(say('The band cannot have been reported before it was found.'));
    await save(work, find, { bandReportedOn: dateColumn(reportedOn) });
    work.audit(
      salvageEvents.make('salvage.band-reported', subjectOf(find), {
        number: find.number,
        band: find.bandNumber,
        reportedOn,
      }),
    );
    await checkFind(work, id, 'facts');
  });
}
