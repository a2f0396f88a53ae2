import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showVial } from '@/lib/tissues/service/list';
import { vialRecord } from '@/lib/tissues/wire';

export const GET = defineRoute({
  permission: 'tissues.see',
  params: idParams,
  response: vialRecord,
  service: ({ actor, params }) => showVial(actor, params.id),
});
