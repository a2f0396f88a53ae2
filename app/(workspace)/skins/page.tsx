import { skinKeys } from '@/components/skins/queries';
import { SkinList } from '@/components/skins/skin-list';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { skinListQuery } from '@/lib/skins/schema';
import { listSkins } from '@/lib/skins/service';

export const generateMetadata = titled('Skins');

export default async function SkinsPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('materials.see');
  const query = await readListQuery(skinListQuery, searchParams);
  return withQueries(
    [{ key: skinKeys.list(query), load: () => listSkins(actor, query) }],
    <SkinList query={query} />,
  );
}
