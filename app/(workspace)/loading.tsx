import { Loading } from '@/components/ui/loading';
import { say } from '@/lib/platform/words/say';

export default function WorkspaceLoading() {
  return <Loading what={say('Loading')} lines={8} />;
}
