import {
  accessionListQuery,
  accessionPage,
  accessionRecord,
  accessionRequest,
} from '@/lib/accessions/schema';
import { listAccessions, makeAccession } from '@/lib/accessions/service';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'accessions.see',
  query: accessionListQuery,
  response: accessionPage,
  service: ({ actor, query }) => listAccessions(actor, query),
});

export const POST = defineRoute({
  permission: 'accessions.make',
  body: accessionRequest,
  response: accessionRecord,
  service: ({ context, body }) => makeAccession(context, body),
});
