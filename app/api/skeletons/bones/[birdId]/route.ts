import { defineRoute } from '@/lib/platform/http';
import { saveBoneBook, showBoneBook } from '@/lib/skeletons/book';
import { birdParams, boneBook, saveBoneBookRequest } from '@/lib/skeletons/schema';

export const GET = defineRoute({
  permission: 'bench.see',
  params: birdParams,
  response: boneBook,
  service: ({ actor, params }) => showBoneBook(actor, params.birdId),
});

export const POST = defineRoute({
  permission: 'bench.write',
  params: birdParams,
  body: saveBoneBookRequest,
  response: boneBook,
  service: ({ context, params, body }) => saveBoneBook(context, params.birdId, body),
});
