import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { checklistRecord } from '@/lib/taxa/schema';
import { showChecklist } from '@/lib/taxa/service/checklists';

export const GET = defineRoute({
  permission: 'taxa.manage',
  params: idParams,
  response: checklistRecord,
  service: ({ actor, params }) => showChecklist(actor, params.id),
});
