import { useSessions } from '../app/sessions.ts';
import { useStore } from '../ui/use-store.ts';
import { AccountsDialog } from './accounts-dialog.tsx';
import { PasswordDialog } from './password-dialog.tsx';
import { SessionsDialog } from './sessions-dialog.tsx';
import { ShareDialog } from './share-dialog.tsx';

/** The dialogs about people; loaded when the first one is opened. */
export default function AccountDialogs() {
  const { view } = useSessions();
  const { dialog } = useStore(view);
  const close = () => view.patch({ dialog: undefined });
  switch (dialog) {
    case 'password':
      return <PasswordDialog onClose={close} />;
    case 'sessions':
      return <SessionsDialog onClose={close} />;
    case 'accounts':
      return <AccountsDialog onClose={close} />;
    case 'share':
      return <ShareDialog onClose={close} />;
    default:
      return null;
  }
}
