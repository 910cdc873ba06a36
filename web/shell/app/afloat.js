// On a narrow page what an act brought about stands above the work. Where that is
// scrolled out of sight, the words float over the starter's bar until the next act, or
// until the Tab key leads on: nothing that has the focus stays under them.

const narrow = matchMedia('(max-width: 860px)');
let read = null; // the last of the words that floated and were left

function look() {
  const notices = document.querySelector('.bay .notices');
  const below = document.getElementById('hands')?.getBoundingClientRect().top;
  const strip = document.querySelector('.bay .strip')?.getBoundingClientRect().bottom;
  const isShown = document.querySelector('.bay .strip.low') && notices?.querySelector(':scope > :not(.fact)') === null; // a test's panel shows what was found
  notices?.classList.toggle('afloat', narrow.matches && notices.childElementCount > 0 && !isShown && notices.lastElementChild !== read && below < strip + notices.offsetHeight);
}

addEventListener('keydown', (e) => {
  if (e.key !== 'Tab') return;
  read = document.querySelector('.bay .afloat')?.lastElementChild ?? read;
  look();
}, true);

addEventListener('scroll', look, { passive: true });
narrow.addEventListener('change', look);

/** Looks where the words stand, after the page was drawn anew. */
export const keepInSight = look;
