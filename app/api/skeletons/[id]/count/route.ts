import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { countBox } from '@/lib/skeletons/box';
import { saveBoxCountRequest, skeletonDetail } from '@/lib/skeletons/schema';

export const POST = defineRoute({
  permission: 'materials.advance',
  params: idParams,
  body: saveBoxCountRequest,
  response: skeletonDetail,
  service: ({ context, params, body }) => countBox(context, params.id, body),
});
