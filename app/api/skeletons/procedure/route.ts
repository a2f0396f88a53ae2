import { defineRoute } from '@/lib/platform/http';
import { chooseProcedureRequest } from '@/lib/skeletons/schema';
import { chooseProcedure } from '@/lib/skeletons/service';
import { movedMaterials } from '@/lib/storage/schema';

export const POST = defineRoute({
  permission: 'materials.advance',
  body: chooseProcedureRequest,
  response: movedMaterials,
  service: ({ context, body }) => chooseProcedure(context, body),
});
