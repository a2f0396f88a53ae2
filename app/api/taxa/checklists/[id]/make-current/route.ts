import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { checklistRecord, makeCurrentRequest } from '@/lib/taxa/schema';
import { makeChecklistCurrent } from '@/lib/taxa/service/checklists';

export const POST = defineRoute({
  permission: 'taxa.manage',
  params: idParams,
  body: makeCurrentRequest,
  response: checklistRecord,
  service: ({ context, params, body }) => makeChecklistCurrent(context, params.id, body),
});
