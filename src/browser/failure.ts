/**
 * Whether the recording can be had. It may have failed before the script ran: then `failed` is called at once.
 * @param failed called when no format of it can be played, or when it breaks off.
 */
export function watchFailure(video: HTMLVideoElement, failed: () => void): void {
  const last = [...video.querySelectorAll("source")].at(-1);
  last?.addEventListener("error", failed);
  video.addEventListener("error", failed);
  if (video.error !== null || video.networkState === HTMLMediaElement.NETWORK_NO_SOURCE) failed();
}
