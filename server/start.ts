import { serveBoremark } from './main.ts';

await serveBoremark();
