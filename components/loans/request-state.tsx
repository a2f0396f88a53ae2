import type { LoanState } from '@/lib/loans/schema';
import { phrases, say } from '@/lib/platform/words/say';

/** How far a request is, for whoever sent it. */
const WORDS: Record<LoanState, string> = phrases({
  asked: 'It has arrived and waits to be looked at.',
  'in-review': 'It is being looked at.',
  granted: 'It is granted and will be packed.',
  declined: 'It was declined.',
  packed: 'It is packed.',
  sent: 'It is on its way.',
  received: 'It has arrived with the borrower.',
  'partly-back': 'A part of it has come back.',
  closed: 'It is closed.',
});

export function RequestState({ state }: { state: LoanState }) {
  return (
    <section role="status" aria-label={say('Your request')}>
      <p>
        <b>{WORDS[state]}</b>
      </p>
      <p>{say('This page says how far your request is, as long as the link is good.')}</p>
    </section>
  );
}
