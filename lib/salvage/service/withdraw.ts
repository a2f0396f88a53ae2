import 'server-only';
import type { HoldKind } from '@/lib/permits/schema';
import type { CommandContext } from '@/lib/platform/actor';
import { conflict } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';
import { salvageEvents } from '../events';
import type { SalvageRecord } from '../wire';
import { takeOffHold } from './holds';
import { onRecord, save, subjectOf } from './load';
import { openHolds } from './shape';

/**
 * Withdraws a record that was made by mistake and stands for no bird in hand, such as one of an import that is taken
 * back. Nothing is disposed of, so holds that the check placed do not stop it and end with it; a person's hold does.
 * The number stays used.
 */
export function withdrawFind(
  context: CommandContext,
  id: string,
  { version, reason }: { version: number; reason: string },
): Promise<SalvageRecord> {
  return onRecord(context, id, { permission: 'salvage.triage', version }, async (work, find) => {
    if (find.bird !== null)
      throw conflict(say('{number} is in the bird book already.', { number: find.number }));
    if (find.state === 'declined')
      throw conflict(say('{number} is declined already.', { number: find.number }));
    const holds = openHolds(find);
    if (holds.some((hold) => hold.placedBy !== null))
      throw conflict(
        say('{number} was put on hold by somebody; the hold must be lifted first.', { number: find.number }),
      );
    for (const hold of holds) {
      const kind = hold.kind as HoldKind;
      await takeOffHold(work, find, {
        id: hold.id,
        kind,
        note: 'The record was withdrawn.',
        byCheck: true,
      });
    }
    await save(work, find, { state: 'declined' });
    work.audit(
      salvageEvents.make('salvage.withdrawn', subjectOf(find, reason), {
        number: find.number,
        from: find.state,
      }),
    );
  });
}
