import { notFound } from 'next/navigation';
import { reportKeys } from '@/components/reports/queries';
import { ReportRecord } from '@/components/reports/report-record';
import {
  orNull,
  type RecordParams,
  readId,
  readListQuery,
  requireActor,
  type SearchParams,
  titled,
  withQueries,
} from '@/lib/platform/page';
import { listLines, showReport } from '@/lib/reports/service/record';
import { lineQuery } from '@/lib/reports/wire';

export const generateMetadata = titled('Salvage report');

export default async function ReportPage(props: { params: RecordParams; searchParams: SearchParams }) {
  const actor = await requireActor('reports.see');
  const id = await readId(props.params);
  const query = await readListQuery(lineQuery, props.searchParams);
  const record = await orNull(showReport(actor, id));
  if (record === null) notFound();
  return withQueries(
    [
      { key: reportKeys.record(id), load: async () => record },
      { key: reportKeys.lines(id, query), load: () => listLines(actor, id, query) },
    ],
    <ReportRecord id={id} query={query} />,
  );
}
