import { defineRoute } from '@/lib/platform/http';
import { skinListQuery } from '@/lib/skins/schema';
import { listSkins } from '@/lib/skins/service';
import { processGroups } from '@/lib/storage/schema';

export const GET = defineRoute({
  permission: 'materials.see',
  query: skinListQuery,
  response: processGroups,
  service: ({ actor, query }) => listSkins(actor, query),
});
