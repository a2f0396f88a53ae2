import { requireActor } from '@/lib/platform/page';

export const metadata = { title: 'My desk' };

export default async function DeskPage() {
  const actor = await requireActor('workspace.enter');
  return <h1>Good day, {actor.name}</h1>;
}
