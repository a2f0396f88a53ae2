import { defineRoute } from '@/lib/platform/http';
import { advanceSkinsRequest } from '@/lib/skins/schema';
import { advanceSkins } from '@/lib/skins/service';
import { movedMaterials } from '@/lib/storage/schema';

export const POST = defineRoute({
  permission: 'materials.advance',
  body: advanceSkinsRequest,
  response: movedMaterials,
  service: ({ context, body }) => advanceSkins(context, body),
});
