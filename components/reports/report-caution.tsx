import { CautionCard } from '@/components/ui/caution-card';
import { legalCaution } from '@/lib/permits/schema';

/** What a report is and is not; who decides. */
export function ReportCaution() {
  return (
    <CautionCard
      title="Before a report is handed in"
      source="the permit's own report clause, and the office that issued it"
    >
      <p>
        The figures are computed from what was entered. The layout is our own: an office may ask for its own
        form. Whoever signs answers for it. {legalCaution}
      </p>
    </CautionCard>
  );
}
