import { dayIn } from '@/lib/platform/clock';
import { say } from '@/lib/platform/words/say';
import type { LoanBalance } from '../rules';

/** The balance as the equation that it is. */
export const sayBalance = ({ sent, returned, consumed, lost, out }: LoanBalance): string =>
  say('{sent} sent − {returned} returned − {consumed} consumed − {lost} lost = {out} out', {
    sent,
    returned,
    consumed,
    lost,
    out,
  });

/** The present instant when the day is today in the collection, noon (UTC) of another day. */
export const instantOn = (day: string, { timeZone }: { timeZone: string }, now: Date): Date =>
  day === dayIn(timeZone, now) ? now : new Date(`${day}T12:00:00.000Z`);
