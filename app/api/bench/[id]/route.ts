import { showRecord } from '@/lib/bench/service/records';
import { benchRecord } from '@/lib/bench/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'bench.see',
  params: idParams,
  response: benchRecord,
  service: ({ actor, params }) => showRecord(actor, params.id),
});
