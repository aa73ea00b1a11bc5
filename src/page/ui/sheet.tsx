/** A sheet over the page: holds the focus, closes by Escape, its button or a tap beside it, and gives the focus back. */

import type { ReactNode } from "react";
import { Dialog, Heading, I18nProvider, Modal, ModalOverlay } from "react-aria-components";
import { useSpeech } from "../words/language.js";

interface SheetProps {
  readonly title: string;
  readonly children: ReactNode;
  readonly close: () => void;
  /** What the button that closes it says; "Close" where nothing is lost by it. */
  readonly closeName?: string;
  /** Whether a tap beside it leaves it open: what was typed is not lost by a slip. */
  readonly keep?: boolean;
}

export function Sheet({ title, children, close, closeName, keep = false }: SheetProps) {
  const { words, language } = useSpeech();
  return (
    <I18nProvider locale={language}>
      <ModalOverlay className="over" isOpen isDismissable={!keep} onOpenChange={(open) => !open && close()}>
        <Modal className="sheet-room">
          <Dialog className="sheet-over">
            <div className="sheet-head">
              <Heading slot="title">{title}</Heading>
              <button type="button" onClick={close}>
                {closeName ?? words.why.close}
              </button>
            </div>
            {children}
          </Dialog>
        </Modal>
      </ModalOverlay>
    </I18nProvider>
  );
}
