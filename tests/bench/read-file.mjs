// Reads one file with the built reader, as the server does, and nothing else: a process to be measured.
import { readExtractFile } from '../../dist/server/read-extract.js';

const result = await readExtractFile(process.argv[2], { onProgress() {} });
if (!result.ok) throw new Error(result.refusal.code);
if (result.value.ways.length === 0) throw new Error('nothing was kept');
