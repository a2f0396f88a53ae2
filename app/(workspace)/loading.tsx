import { Loading } from '@/components/ui/loading';

export default function WorkspaceLoading() {
  return <Loading what="Loading" lines={8} />;
}
