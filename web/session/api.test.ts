import { describe, expect, it } from 'vitest';
import { createApi } from './api.ts';
import { createAsk } from './ask.ts';

const respond = (body: BodyInit | null, init: ResponseInit) =>
  createApi(createAsk(async () => new Response(body, init)));
const json = { headers: { 'content-type': 'application/json' } };

describe('the API', () => {
  it('gives what the server gives', async () => {
    expect(await respond('{"version":"1"}', json).config()).toEqual({ ok: true, value: { version: '1' } });
    expect(await respond(null, { status: 204 }).removeSurvey('a')).toEqual({ ok: true, value: undefined });
  });

  it('hands on a refusal with its sentence', async () => {
    const problem = {
      code: 'survey-unknown',
      status: 404,
      detail: 'There is no survey a.',
      context: { id: 'a' },
    };
    const headers = { 'content-type': 'application/problem+json' };
    const answer = await respond(JSON.stringify(problem), { status: 404, headers }).findSurvey('a');
    expect(answer).toEqual({ ok: false, problem });
  });

  it.each([
    ['a network failure', createApi(createAsk(() => Promise.reject(new TypeError('failed'))))],
    ['a gateway’s page', respond('<html>', { status: 502 })],
    ['an answer that is no JSON', respond('<html>', { status: 200 })],
  ])('takes %s for a server that does not answer', async (_, api) => {
    expect(await api.listSurveys()).toMatchObject({ ok: false, problem: { code: 'unreachable' } });
  });

  it('writes ids safely into addresses', () => {
    const api = createApi();
    expect(api.eventsUrl('a/b?c')).toBe('/api/surveys/a%2Fb%3Fc/events');
  });
});
