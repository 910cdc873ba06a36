// In a cmi5 package only: lets the page speak to the record store that the launch
// address names, and to nobody else. It runs before anything is fetched; the policy of
// the page itself allows no script that isn't a file of the package.

{
  const q = new URLSearchParams(location.search);
  const origins = ["'self'"];
  for (const name of ['endpoint', 'fetch']) {
    try {
      const { origin, protocol } = new URL(q.get(name));
      if (protocol === 'https:' || protocol === 'http:') origins.push(origin);
    } catch {
      // not launched: then there is nobody to speak to
    }
  }
  const tag = document.createElement('meta');
  tag.httpEquiv = 'Content-Security-Policy';
  tag.content = `connect-src ${[...new Set(origins)].join(' ')}`;
  document.head.append(tag);
}
