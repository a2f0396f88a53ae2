'use client';

import { Drawer } from '@mantine/core';
import { say } from '@/lib/platform/words/say';
import { StageNavigation, type StageNavigationProps } from './stage-navigation';

/** The navigation where there is no room for the rail. Closes when a stage is chosen. */
export function StagesDrawer({
  opened,
  onClose,
  ...navigation
}: Omit<StageNavigationProps, 'onNavigate'> & { opened: boolean; onClose: () => void }) {
  return (
    <Drawer
      opened={opened}
      onClose={onClose}
      returnFocus={false}
      title={say('Stages')}
      size={304}
      className="f-screen-only"
    >
      <StageNavigation {...navigation} onNavigate={onClose} />
    </Drawer>
  );
}
