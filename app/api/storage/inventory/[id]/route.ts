import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showCount } from '@/lib/storage/service/inventory';
import { countRecord } from '@/lib/storage/wire-inventory';

export const GET = defineRoute({
  permission: 'storage.see',
  params: idParams,
  response: countRecord,
  service: ({ actor, params }) => showCount(actor, params.id),
});
