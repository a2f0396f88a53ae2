import { defineRoute } from '@/lib/platform/http';
import { advanceSkeletonsRequest } from '@/lib/skeletons/schema';
import { advanceSkeletons } from '@/lib/skeletons/service';
import { movedMaterials } from '@/lib/storage/schema';

export const POST = defineRoute({
  permission: 'materials.advance',
  body: advanceSkeletonsRequest,
  response: movedMaterials,
  service: ({ context, body }) => advanceSkeletons(context, body),
});
