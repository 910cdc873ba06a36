// On a narrow page what an act brought about stands above the work. Where that is
// scrolled out of sight, the words float over the starter's bar until the next act, or
// until the Tab key leads on: nothing that has the focus stays under them.

const narrow = matchMedia('(max-width: 860px)');
let read = null; // the last of the words that floated and were left

let last = null, many = 0, tall = 0; // what was measured where the words stand: the last of them, how many, their height [px]

/** How tall the words are where they stand when they don't float [px]. */
function height(notices) {
  const { lastElementChild, childElementCount, classList } = notices;
  if (!classList.contains('afloat') || lastElementChild !== last || childElementCount !== many) {
    classList.remove('afloat');
    [last, many, tall] = [lastElementChild, childElementCount, notices.offsetHeight];
  }
  return tall;
}

function look() {
  const notices = document.querySelector('.bay .notices'), hands = document.getElementById('hands');
  if (!notices || !hands) return;
  const strip = document.querySelector('.bay .strip').getBoundingClientRect().bottom;
  const isShown = document.querySelector('.bay .strip.low') && notices.querySelector(':scope > :not(.fact)') === null; // a test's panel shows what was found
  const isAfloat = narrow.matches && notices.childElementCount > 0 && !isShown && notices.lastElementChild !== read
    && hands.getBoundingClientRect().top < strip + height(notices);
  notices.classList.toggle('afloat', isAfloat);
  if (isAfloat || notices.childElementCount > 3) notices.tabIndex = 0; // then they may scroll
  else notices.removeAttribute('tabindex');
  hands.style.marginTop = isAfloat ? `calc(${tall}px + .75rem)` : ''; // their place stays free: nothing moves under a finger
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
