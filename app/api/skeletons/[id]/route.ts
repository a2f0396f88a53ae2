import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showSkeleton } from '@/lib/skeletons/box';
import { skeletonDetail } from '@/lib/skeletons/schema';

export const GET = defineRoute({
  permission: 'materials.see',
  params: idParams,
  response: skeletonDetail,
  service: ({ actor, params }) => showSkeleton(actor, params.id),
});
