import { printLabels } from '@/lib/labels/service';
import { labelParams, labelQuery } from '@/lib/labels/wire';
import { defineFileRoute } from '@/lib/platform/http';

/** Labels of records as a PDF of exact size. */
export const GET = defineFileRoute({
  permission: 'labels.print',
  params: labelParams,
  query: labelQuery,
  service: async ({ actor, params, query }) => ({
    body: await printLabels(actor, params.kind, query),
    mediaType: 'application/pdf',
    fileName: `${params.kind}.pdf`,
    inline: true,
  }),
});
