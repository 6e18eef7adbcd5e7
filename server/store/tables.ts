import type { Role } from '../../shared/wire/accounts.ts';
import type { NewJob } from '../jobs/job.ts';

/** The tables of every store, as migrations.ts makes them. Bodies are JSON text; times are ISO 8601 in UTC. */
export type Tables = {
  /** One row: whoever changes what more than one survey shares takes it first (lockStore). */
  store: {
    readonly id: 1;
    readonly writes: number;
    /** Another one after everything was replaced by a backup: what was read before holds no longer. */
    readonly generation: number;
  };
  surveys: {
    readonly id: string;
    readonly created_at: string;
    readonly revision: number;
    /** The revision at which `head` became what it is: edits of designs since then left it alone. */
    readonly head_revision: number;
    /** A survey without its large parts (survey-rows.ts). */
    readonly head: string;
  };
  /** What a survey was at each of its revisions: `head` only where it became another one. Rows only come. */
  revisions: {
    readonly survey_id: string;
    readonly revision: number;
    readonly at: string;
    /** The account that made it, where there are accounts. */
    readonly made_by: string | null;
    readonly head: string | null;
  };
  /** Large parts by the hash of what they hold: extracts, networks, backgrounds, evidence. */
  blobs: { readonly id: string; readonly bytes: Uint8Array };
  /** Which surveys need a blob; a candidate's only as long as the candidate waits. */
  survey_blobs: { readonly survey_id: string; readonly blob_id: string; readonly candidate: number };
  /** A scheme from the survey's revision `since` until it was replaced, carried over or dropped at `ended`. */
  schemes: {
    readonly key: string;
    readonly survey_id: string;
    readonly complex_id: string;
    readonly revision: number;
    /** The survey's revision at which it was written last. */
    readonly written: number;
    readonly since: number;
    readonly ended: number | null;
  };
  /** What followed from a scheme's log when it was written: a Scheme without its log. Rows only come. */
  snapshots: { readonly scheme_key: string; readonly written: number; readonly body: string };
  /** The log of each scheme, in order from 0. Rows only come. */
  commands: {
    readonly scheme_key: string;
    readonly seq: number;
    readonly command_id: string;
    /** The survey's revision that it made. */
    readonly revision: number;
    readonly body: string;
  };
  /** Who may sign in. Accounts are closed, not removed: the history names them. */
  accounts: {
    readonly id: string;
    readonly email: string;
    readonly name: string;
    readonly email_verified: 0 | 1;
    readonly image: string | null;
    readonly role: Role;
    readonly is_closed: 0 | 1;
    readonly created_at: string;
    readonly updated_at: string;
  };
  /** Each account's password, hashed; the other columns are the library's, for other ways to sign in. */
  passwords: {
    readonly id: string;
    readonly account_id: string;
    readonly subject: string;
    readonly provider: string;
    readonly password: string | null;
    readonly created_at: string;
    readonly updated_at: string;
  };
  sessions: {
    readonly id: string;
    readonly account_id: string;
    readonly token: string;
    readonly expires_at: string;
    readonly ip_address: string | null;
    readonly user_agent: string | null;
    readonly created_at: string;
    readonly updated_at: string;
  };
  /** The library wants it; nothing is kept there as long as no mail is sent. */
  verifications: { readonly id: string };
  /** What sessions are signed with: one row. */
  secrets: { readonly name: string; readonly value: string };
  /** Attempts to sign in, by whom they are counted for, until when. */
  attempts: { readonly counted_for: string; readonly count: number; readonly until: string };
  /** Links that show one survey; of the token only its hash. */
  shares: {
    readonly id: string;
    readonly survey_id: string;
    readonly token_hash: string;
    readonly label: string;
    readonly created_at: string;
    readonly created_by: string | null;
    readonly expires_at: string;
    readonly last_used_at: string | null;
  };
  /** What is to be done, is being done, and has ended so that it is still told (job-rows.ts). */
  jobs: {
    readonly id: string;
    /** In which order they came. */
    readonly seq: number;
    readonly kind: NewJob['kind'];
    readonly state: 'waiting' | 'working' | 'refused' | 'ready';
    /** What is to be done: a NewJob. */
    readonly body: string;
    readonly progress: string;
    readonly refusal: string | null;
    /** What it came to, where somebody waits for that. */
    readonly result: Uint8Array | null;
    /** How often it was begun. */
    readonly attempt: number;
    /** Who does it: another one at every attempt. */
    readonly runner: string | null;
    /** Grows as long as whoever does it lives; counted, because clocks of several machines differ. */
    readonly beats: number;
  };
  /** What is told of each survey at a revision, by one build of the program: only to spare work. */
  survey_views: {
    readonly survey_id: string;
    readonly revision: number;
    readonly edition: string;
    readonly body: string;
  };
  /** Files that were sent, in pieces, where whoever reads them may be on another machine (chunk-uploads.ts). */
  upload_chunks: {
    readonly upload_id: string;
    readonly seq: number;
    readonly at: string;
    readonly bytes: Uint8Array;
  };
};
