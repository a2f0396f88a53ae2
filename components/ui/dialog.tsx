'use client';

import { Modal } from '@mantine/core';
import type { ReactNode } from 'react';
import { say } from '@/lib/platform/words/say';
import classes from './dialog.module.css';

/**
 * A window over the page, closed by Escape, by its cross or by pressing beside it; the focus goes in and comes back.
 * Made from the library's parts: its own head is a banner landmark, and a page has one of those already.
 */
export function Dialog({
  opened,
  onClose,
  title,
  width,
  fullScreen = false,
  children,
}: {
  opened: boolean;
  onClose: () => void;
  title: string;
  /** In px. */
  width: number;
  fullScreen?: boolean;
  children: ReactNode;
}) {
  return (
    <Modal.Root
      opened={opened}
      onClose={onClose}
      size={width}
      fullScreen={fullScreen}
      yOffset="8vh"
      shadow="none"
      transitionProps={{ duration: 0 }}
      className="f-screen-only"
    >
      <Modal.Overlay />
      <Modal.Content>
        <div className={classes.head}>
          <Modal.Title>{title}</Modal.Title>
          <Modal.CloseButton aria-label={say('Close')} size="lg" />
        </div>
        <Modal.Body className={classes.body}>{children}</Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}
