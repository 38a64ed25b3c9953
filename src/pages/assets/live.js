// Keeps parts of a page up to date. Without it the page is whole, and a reload brings the news.
// A part says where its own newer self is (data-live) and how often to look, in seconds (data-every).

// Someone reads or writes in it: what they have before them must not move.
function isBeingUsed(part) {
  const active = document.activeElement;
  if (active !== null && active !== part && part.contains(active)) return true;
  if (part.querySelector('details[open]') !== null) return true;
  if ([...part.querySelectorAll('audio')].some((sound) => !sound.paused)) return true;
  return [...part.querySelectorAll('textarea, input[type=text]')].some((field) => field.value !== field.defaultValue);
}

// Forms are named anew each time they are fetched; that alone is no news.
const news = (words) => words.replaceAll(/name="id" value="[^"]*"/g, '');

async function renew(part) {
  if (document.hidden || isBeingUsed(part)) return;
  const response = await fetch(part.dataset.live, { headers: { Accept: 'text/html' }, redirect: 'manual' });
  if (!response.ok) return;
  const words = await response.text();
  if (news(words) === part.shown || isBeingUsed(part)) return;
  part.shown = news(words);
  part.replaceChildren(...new DOMParser().parseFromString(words, 'text/html').body.childNodes);
}

async function keepUpToDate(part) {
  const wait = Number(part.dataset.every ?? '5') * 1000;
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, wait));
    // A line that is bad for a while is no reason to stop looking.
    await renew(part).catch(() => {});
  }
}

for (const part of document.querySelectorAll('[data-live]')) void keepUpToDate(part);
