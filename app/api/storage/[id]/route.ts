import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showUnit } from '@/lib/storage/service/tree';
import { unitRecord } from '@/lib/storage/wire';

export const GET = defineRoute({
  permission: 'storage.see',
  params: idParams,
  response: unitRecord,
  service: ({ actor, params }) => showUnit(actor, params.id),
});
