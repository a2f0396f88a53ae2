import { createPermitRequest } from '@/lib/permits/permit-schema';
import { createPermit, listPermits } from '@/lib/permits/service/permits';
import { permitListQuery, permitPage, permitRecord } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'permits.see',
  query: permitListQuery,
  response: permitPage,
  service: ({ actor, query }) => listPermits(actor, query),
});

export const POST = defineRoute({
  permission: 'permits.manage',
  body: createPermitRequest,
  response: permitRecord,
  service: ({ context, body }) => createPermit(context, body),
});
