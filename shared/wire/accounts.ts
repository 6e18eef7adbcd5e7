import { z } from 'zod';

/** What an account may do; each may do what those before it may. */
export const ROLES = ['reader', 'crew', 'planner', 'administrator'] as const;
export type Role = (typeof ROLES)[number];
const roleSchema = z.enum(ROLES);

/** Far longer than any password; a longer one only costs time to hash. */
const passwordSchema = z.string().min(1).max(256);
/** NIST SP 800-63B: length counts, not kinds of characters. */
const newPasswordSchema = z.string().min(12).max(256);
const emailSchema = z.email().max(254);
const nameSchema = z.string().trim().min(1).max(100);

export const ownAccountSchema = z.object({
  id: z.string(),
  email: z.string(),
  name: z.string(),
  role: roleSchema,
});
export type OwnAccount = z.infer<typeof ownAccountSchema>;

/**
 * Who asks: `local` without login; `accounts` with the account that is signed in, or what a share link shows, or neither
 * before somebody signs in.
 */
export const whoSchema = z
  .object({
    mode: z.enum(['local', 'accounts']),
    account: ownAccountSchema.optional(),
    share: z.object({ surveyId: z.string(), expiresAt: z.string() }).optional(),
  })
  .meta({ id: 'Who' });
export type Who = z.infer<typeof whoSchema>;

export const signInSchema = z.strictObject({ email: z.string().max(254), password: passwordSchema });
export type SignIn = z.infer<typeof signInSchema>;

/** The secret part of a share link, as it stands behind `#share=` in the address of the page. */
export const openShareSchema = z.strictObject({ token: z.string().min(20).max(100) });

export const changePasswordSchema = z.strictObject({
  currentPassword: passwordSchema,
  newPassword: newPasswordSchema,
});
export type ChangePassword = z.infer<typeof changePasswordSchema>;

export const sessionListSchema = z
  .object({
    sessions: z.array(
      z.object({
        id: z.string(),
        createdAt: z.string(),
        lastSeenAt: z.string(),
        /** What the browser calls itself. */
        userAgent: z.string().optional(),
        /** The one that asks. */
        isThis: z.boolean(),
      }),
    ),
  })
  .meta({ id: 'Sessions' });
export type SessionList = z.infer<typeof sessionListSchema>;

export const accountSchema = ownAccountSchema
  .extend({
    /** Closed accounts stay, so that the history can tell who did what; nobody signs in to one. */
    isClosed: z.boolean(),
    createdAt: z.string(),
    /** Of the latest session that still holds. */
    lastSeenAt: z.string().optional(),
    sessions: z.number(),
  })
  .meta({ id: 'Account' });
export type AccountView = z.infer<typeof accountSchema>;
export const accountListSchema = z.object({ accounts: z.array(accountSchema) }).meta({ id: 'Accounts' });

export const newAccountSchema = z
  .strictObject({ email: emailSchema, name: nameSchema, role: roleSchema })
  .meta({ id: 'NewAccount' });
export type NewAccount = z.infer<typeof newAccountSchema>;

export const accountPatchSchema = z
  .strictObject({
    name: nameSchema.optional(),
    role: roleSchema.optional(),
    isClosed: z.boolean().optional(),
  })
  .meta({ id: 'AccountPatch' });
export type AccountPatch = z.infer<typeof accountPatchSchema>;

/** A password that the server made: told once and kept nowhere. */
export const madePasswordSchema = z
  .object({ account: accountSchema, password: z.string() })
  .meta({ id: 'MadePassword' });
export type MadePassword = z.infer<typeof madePasswordSchema>;

/** A link that shows one survey, and nothing else, to whoever has it. */
export const shareSchema = z
  .object({
    id: z.string(),
    /** Whom it is for. */
    label: z.string(),
    createdAt: z.string(),
    createdBy: z.string().optional(),
    expiresAt: z.string(),
    lastUsedAt: z.string().optional(),
  })
  .meta({ id: 'Share' });
export type ShareView = z.infer<typeof shareSchema>;
export const shareListSchema = z.object({ shares: z.array(shareSchema) }).meta({ id: 'Shares' });

/** Longest time that a share link can hold. */
export const LONGEST_SHARE_DAYS = 366;

export const newShareSchema = z
  .strictObject({
    label: z.string().trim().min(1).max(100),
    days: z.number().int().min(1).max(LONGEST_SHARE_DAYS),
  })
  .meta({ id: 'NewShare' });
export type NewShare = z.infer<typeof newShareSchema>;

/** `token` is told once and kept nowhere. */
export const madeShareSchema = z.object({ share: shareSchema, token: z.string() }).meta({ id: 'MadeShare' });
export type MadeShare = z.infer<typeof madeShareSchema>;
