import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showFind } from '@/lib/salvage/service/reading';
import { salvageRecord } from '@/lib/salvage/wire';

export const GET = defineRoute({
  permission: 'salvage.see',
  params: idParams,
  response: salvageRecord,
  service: ({ actor, params }) => showFind(actor, params.id),
});
