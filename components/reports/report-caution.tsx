import { CautionCard } from '@/components/ui/caution-card';
import { legalCaution } from '@/lib/permits/caution';
import { say } from '@/lib/platform/words/say';

/** What a report is and is not; who decides. */
export function ReportCaution() {
  return (
    <CautionCard
      title={say('Before a report is handed in')}
      source={say("the permit's own report clause, and the office that issued it")}
    >
      <p>
        {say(
          'The figures are computed from what was entered. The layout is our own: an office may ask for its own form. Whoever signs answers for it. {legalCaution}',
          { legalCaution },
        )}
      </p>
    </CautionCard>
  );
}
