import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { readSettings } from '../read-settings.ts';
import { backUp, restore } from '../store/back-up.ts';
import { tell } from './tell.ts';

/** Writes a backup of the store that the environment names, and says how large it is. */
export async function runBackUp(file: string, env: NodeJS.ProcessEnv = process.env): Promise<Result<null>> {
  const settings = readSettings(env);
  if (typeof settings === 'string') return refused(refusal('settings-unusable', { reason: settings }));
  tell('Copying …');
  const made = await backUp(settings, file);
  tell('');
  if (!made.ok) return made;
  process.stdout.write(`${file}: ${(made.value.bytes / 1e6).toFixed(1)} MB\n`);
  return done(null);
}

/** Lets a backup take the place of everything in the store that the environment names. */
export async function runRestore(
  file: string,
  options: { readonly replace?: boolean },
  env: NodeJS.ProcessEnv = process.env,
): Promise<Result<null>> {
  const settings = readSettings(env);
  if (typeof settings === 'string') return refused(refusal('settings-unusable', { reason: settings }));
  tell('Copying …');
  const restored = await restore(settings, file, { replace: options.replace === true });
  tell('');
  if (!restored.ok) return restored;
  const { surveys } = restored.value;
  process.stdout.write(`${surveys} ${surveys === 1 ? 'survey' : 'surveys'} restored\n`);
  return done(null);
}
