/**
 * Keeps the built page on this machine, so that it opens again without a network.
 *
 * It begins when everything of the first sight has come, so that nothing of it waits. Where a browser keeps nothing (a
 * private window, a page from a file), the page works all the same. While developing it does nothing.
 *
 * @param onNewVersion  called once a newer version has been fetched: it is there when the page is next opened, and not
 *                      before the last page of the old version is closed
 */
export function registerOffline(onNewVersion: () => void): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return
  const register = async () => {
    const registration = await navigator.serviceWorker.register('./service-worker.js')
    registration.addEventListener('updatefound', () => {
      const coming = registration.installing
      coming?.addEventListener('statechange', () => {
        // Without a worker in charge this is the first version, not a newer one.
        if (coming.state === 'installed' && navigator.serviceWorker.controller) onNewVersion()
      })
    })
  }
  const begin = () => register().catch(() => undefined)
  if (document.readyState === 'complete') begin()
  else addEventListener('load', begin, { once: true })
}
