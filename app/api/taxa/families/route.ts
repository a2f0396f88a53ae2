import { defineRoute } from '@/lib/platform/http';
import { familyList } from '@/lib/taxa/schema';
import { listFamilies } from '@/lib/taxa/service/taxa';

export const GET = defineRoute({
  permission: 'taxa.see',
  response: familyList,
  service: ({ actor }) => listFamilies(actor),
});
