import { defineRoute } from '@/lib/platform/http';
import { moveMaterials } from '@/lib/storage/service/moves';
import { movedMaterials, moveMaterialsRequest } from '@/lib/storage/wire';

export const POST = defineRoute({
  permission: 'storage.move',
  body: moveMaterialsRequest,
  response: movedMaterials,
  service: ({ context, body }) => moveMaterials(context, body),
});
