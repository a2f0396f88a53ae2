import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { planFreezerEvacuation } from '@/lib/tissues/service/evacuation';
import { evacuationList } from '@/lib/tissues/wire';

export const GET = defineRoute({
  permission: 'tissues.see',
  params: idParams,
  response: evacuationList,
  service: ({ actor, params }) => planFreezerEvacuation(actor, params.id),
});
