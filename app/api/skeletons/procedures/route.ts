import { defineRoute } from '@/lib/platform/http';
import { saveProcedures, showProcedures } from '@/lib/skeletons/procedures';
import { procedureBook, saveProceduresRequest } from '@/lib/skeletons/schema';

export const GET = defineRoute({
  permission: 'materials.see',
  response: procedureBook,
  service: ({ actor }) => showProcedures(actor),
});

export const POST = defineRoute({
  permission: 'materials.manage',
  body: saveProceduresRequest,
  response: procedureBook,
  service: ({ context, body }) => saveProcedures(context, body),
});
