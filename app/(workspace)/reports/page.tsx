import { reportKeys } from '@/components/reports/queries';
import { ReportDesk } from '@/components/reports/report-desk';
import { requireActor, titled, withQueries } from '@/lib/platform/page';
import { showReportDesk } from '@/lib/reports/service/desk';

export const generateMetadata = titled('Reports');

export default async function ReportsPage() {
  const actor = await requireActor('reports.see');
  return withQueries([{ key: reportKeys.desk, load: () => showReportDesk(actor) }], <ReportDesk />);
}
