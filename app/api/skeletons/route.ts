import { defineRoute } from '@/lib/platform/http';
import { skeletonGroups, skeletonListQuery } from '@/lib/skeletons/schema';
import { listSkeletons } from '@/lib/skeletons/service';

export const GET = defineRoute({
  permission: 'materials.see',
  query: skeletonListQuery,
  response: skeletonGroups,
  service: ({ actor, query }) => listSkeletons(actor, query),
});
