import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { listMoves } from '@/lib/storage/service/moves';
import { materialMoves } from '@/lib/storage/wire';

export const GET = defineRoute({
  permission: 'storage.see',
  params: idParams,
  response: materialMoves,
  service: ({ actor, params }) => listMoves(actor, params.id),
});
