import { candidatePage } from '@/lib/accessions/schema';
import { listCandidates } from '@/lib/accessions/service';
import { defineRoute } from '@/lib/platform/http';
import { pageQuery } from '@/lib/platform/paging';

export const GET = defineRoute({
  permission: 'accessions.see',
  query: pageQuery,
  response: candidatePage,
  service: ({ actor, query }) => listCandidates(actor, query),
});
