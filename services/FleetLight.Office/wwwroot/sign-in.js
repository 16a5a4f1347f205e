// People sign in at their own provider: OpenID Connect, authorization code with PKCE (RFC 7636), all in the browser, without a secret.
// What comes back is a token for this service; it stands in the tab's memory like a key.

const slot = 'fleetlight-sign-in';
const returning = new URL('signed-in', document.baseURI);

// Renewed when this share of its time has gone by, and at least so long before its end.
const share = 0.75;
const leastSeconds = 10;

/** The providers of this service; none where it has none for its pages. */
export async function providers() {
  try {
    const response = await fetch(new URL('sign-in.json', document.baseURI), { cache: 'no-cache' });
    return response.ok ? await response.json() : [];
  } catch {
    return [];
  }
}

/** Leaves for the provider. Answers what is in the way; nothing where the browser is on its way. */
export async function begin(provider, back) {
  let found;
  try {
    const response = await fetch(`${provider.authority.replace(/\/$/, '')}/.well-known/openid-configuration`);
    if (!response.ok) throw new Error();
    found = await response.json();
  } catch {
    return `${provider.name} does not answer. Try again, or open with a key.`;
  }
  if (found.issuer !== provider.issuer || !found.authorization_endpoint || !found.token_endpoint)
    return `${provider.name} does not say what the settings of this service say of it. Tell whoever looks after FleetLight.`;
  const [state, nonce, verifier] = [random(), random(), random()];
  sessionStorage.setItem(slot, JSON.stringify({ provider, state, nonce, verifier, back, tokenEndpoint: found.token_endpoint }));
  const address = new URL(found.authorization_endpoint);
  const asked = {
    response_type: 'code', client_id: provider.clientId, redirect_uri: returning.href, scope: provider.scope, state, nonce,
    code_challenge: coded(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(verifier))), code_challenge_method: 'S256',
  };
  for (const [name, value] of Object.entries(asked)) address.searchParams.set(name, value);
  location.assign(address);
  return null;
}

/** Whether the browser has just come back from a provider. */
export function isReturning() { return location.pathname === returning.pathname; }

/** Takes what the provider sent along: a token, or why there is none; and where the person was before. */
export async function finish() {
  const sent = new URLSearchParams(location.search);
  const kept = read();
  sessionStorage.removeItem(slot);
  const back = kept?.back ?? '';
  // The code must not stay in the address, nor in the history.
  history.replaceState(null, '', returning.pathname);
  if (!kept?.verifier || sent.get('state') !== kept.state || (sent.has('iss') && sent.get('iss') !== kept.provider.issuer))
    return { back, problem: 'What came back does not belong to a sign-in that was begun here. Sign in again.' };
  if (sent.has('error')) {
    const why = sent.get('error') === 'access_denied' ? 'The sign-in was refused or given up.'
      : `${kept.provider.name} said: ${sent.get('error_description') ?? sent.get('error')}.`;
    return { back, problem: `${why} Sign in again, or open with a key.` };
  }
  const got = await ask(kept, { grant_type: 'authorization_code', code: sent.get('code') ?? '', redirect_uri: returning.href, code_verifier: kept.verifier });
  if (!got) return { back, problem: `${kept.provider.name} gave no token. Sign in again, or open with a key.` };
  if (got.id_token && claims(got.id_token)?.nonce !== kept.nonce)
    return { back, problem: 'What came back does not belong to a sign-in that was begun here. Sign in again.' };
  return take(kept, got, back);
}

/** Seconds until the token should be renewed; none where it cannot be. */
export function renewIn() {
  const kept = read();
  return kept?.refreshToken && kept.renewAt ? Math.max(1, (kept.renewAt - Date.now()) / 1000) : null;
}

/** Another token in place of the one that ends; none where the provider gives none. */
export async function renew() {
  const kept = read();
  if (!kept?.refreshToken) return null;
  const got = await ask(kept, { grant_type: 'refresh_token', refresh_token: kept.refreshToken });
  return got ? take(kept, got, '').token : null;
}

/** Whether the token of this tab came from a sign-in. */
export function signedIn() { return read()?.signedIn === true; }

/** Forgets the sign-in. */
export function forget() { sessionStorage.removeItem(slot); }

function take(kept, got, back) {
  const token = got[kept.provider.token];
  if (!token) return { back, problem: `${kept.provider.name} gave no token for this service. Tell whoever looks after FleetLight.` };
  const lasts = got.expires_in ?? 0;
  sessionStorage.setItem(slot, JSON.stringify({
    provider: kept.provider, tokenEndpoint: kept.tokenEndpoint, signedIn: true, refreshToken: got.refresh_token ?? kept.refreshToken ?? null,
    renewAt: lasts > 0 ? Date.now() + Math.min(lasts * share, Math.max(1, lasts - leastSeconds)) * 1000 : null,
  }));
  return { back, token };
}

async function ask(kept, what) {
  try {
    const response = await fetch(kept.tokenEndpoint, { method: 'POST', body: new URLSearchParams({ ...what, client_id: kept.provider.clientId }) });
    return response.ok ? await response.json() : null;
  } catch {
    return null;
  }
}

function read() {
  try {
    return JSON.parse(sessionStorage.getItem(slot));
  } catch {
    return null;
  }
}

function random() { return coded(crypto.getRandomValues(new Uint8Array(32)).buffer); }

function coded(bytes) { return btoa(String.fromCharCode(...new Uint8Array(bytes))).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', ''); }

function claims(token) {
  try {
    return JSON.parse(atob(token.split('.')[1].replaceAll('-', '+').replaceAll('_', '/')));
  } catch {
    return null;
  }
}
