package label

// The drawings. Each was drawn by hand for this project in a square of 100 by 100 that
// stands on its point, after the standard meaning of the symbol: black on white, few and
// heavy shapes, so that at 16 mm it holds on a cheap printer. The border is black; on a
// label for goods that are shipped it has to be red (29 CFR 1910.1200 appendix C.2.3,
// CLP Annex I 1.2.1, from memory).

// border is the square set on a point; its stroke stays inside the box.
const border = `<path d="M50 3.2 96.8 50 50 96.8 3.2 50Z" fill="#fff" stroke="#000" stroke-width="4.5"/>`

// flamePath is one big tongue, a small one at each side and a white heart.
const flamePath = `<path fill-rule="evenodd" d="M50 17C57 26 55 32 60 38 62 35 62 31 61 28 68 36 71 45 69 55 67 66 59 73 50 73 40 73 32 66 31 55 30 46 35 40 38 33 41 37 41 41 41 45 47 39 52 29 50 17ZM50 70C56 69 59 64 58 58 57 54 54 51 54 47 49 50 50 56 47 60 45 58 45 56 45 53 41 57 41 60 42 64 43 68 46 70 50 70Z"/>`

// inside gives what stands in the square, empty for a symbol that is not in the list.
func (s Symbol) inside() string {
	switch s {
	case Bomb: // A ball bursts: a jagged gap, and pieces that fly off to the upper right.
		return `<path d="M42 45A16 16 0 1 0 58.8 62.5L49.5 61.5 54 55.5 44.5 55Z"/>` +
			`<path d="M49 44.5 50 20 55.5 41ZM58.5 42.5 67.5 30 64 46ZM64 51 80 44 67 57ZM65.5 61.5 77 64.5 64.5 67ZM44.5 40.5 38.5 29.5 46.5 37Z" transform="translate(-1 0)"/>` +
			`<path d="M57 48 62.5 50.5 58.5 55Z"/>`
	case Flame: // The flame stands on the line of the ground.
		return flamePath + `<path d="M38 76H62V80H38Z"/>`
	case FlameCircle: // The flame, smaller, stands on a ring.
		return `<g transform="translate(17 5) scale(.66)">` + flamePath + `</g>` +
			`<circle cx="50" cy="62" r="11" fill="none" stroke="#000" stroke-width="5"/>` +
			`<path d="M39 78H61V82H39Z"/>`
	case Cylinder: // A bottle lies at a slant, with its valve; the white line is its shine.
		return `<g transform="rotate(62 50 50)"><path d="M41 78V42C41 35 46 34 47 31V27H53V31C54 34 59 35 59 42V78C59 80 41 80 41 78Z"/>` +
			`<path d="M43.5 20.5H56.5V24H52V28H48V24H43.5Z"/>` +
			`<path d="M46 45V73" stroke="#fff" stroke-width="2.6"/>` +
			`</g>`
	case Corrosion: // Two test tubes pour, one on a block and one on a hand; both are eaten away.
		return `<g transform="translate(31 37) rotate(-27)">` + tube + `</g>` +
			`<g transform="translate(69 37) scale(-1 1) rotate(-27)">` + tube + `</g>` +
			`<g transform="translate(27.5 44.5)">` + drop + `</g>` +
			`<g transform="translate(72.5 44.5)">` + drop + `</g>` +
			`<path d="M21.5 57.5H23.5L26 62 28.5 60.5 31.5 62.5 33.5 57.5H48V68H28Z"/>` +
			`<path d="M60 58.5 65 57H68.5L70.5 61 73 59.5 75.5 62 77 57.5H78.5L73 68 66 72.5 60 68Z"/>` +
			`<path d="M63 60 54 61.5M63 64.5 53 67M66 69 57 73" stroke="#000" stroke-width="3.8" stroke-linecap="round"/>`
	case Skull:
		return `<path d="M50 18C61 18 67.5 25 67.5 34.5 67.5 41 64.5 45 60 47.5V54.5C60 57.5 40 57.5 40 54.5V47.5C35.5 45 32.5 41 32.5 34.5 32.5 25 39 18 50 18Z"/>` +
			`<g fill="#fff"><ellipse cx="42.5" cy="37.5" rx="5" ry="4.6"/>` +
			`<ellipse cx="57.5" cy="37.5" rx="5" ry="4.6"/>` +
			`<path d="M50 42.5 53 48H47Z"/>` +
			`</g>` +
			`<path d="M45 51V57M50 51V57.5M55 51V57" stroke="#fff" stroke-width="1.8"/>` +
			`<path d="M36.5 61 63.5 74M63.5 61 36.5 74" stroke="#000" stroke-width="5"/>` +
			`<g><circle cx="34" cy="61.5" r="3.3"/>` +
			`<circle cx="37" cy="58.5" r="3.3"/>` +
			`<circle cx="66" cy="61.5" r="3.3"/>` +
			`<circle cx="63" cy="58.5" r="3.3"/>` +
			`<circle cx="35.8" cy="72.6" r="3.3"/>` +
			`<circle cx="38.7" cy="76.3" r="3.3"/>` +
			`<circle cx="64.2" cy="72.6" r="3.3"/>` +
			`<circle cx="61.3" cy="76.3" r="3.3"/>` +
			`</g>`
	case Exclamation:
		return `<path d="M50 19C55.5 19 58.5 22.5 58 28L54.5 58C54.2 61 52.5 63 50 63 47.5 63 45.8 61 45.5 58L42 28C41.5 22.5 44.5 19 50 19Z"/>` +
			`<circle cx="50" cy="73.5" r="6.5"/>`
	case Health: // Head and shoulders with a white star in the chest.
		return `<circle cx="50" cy="24.5" r="8.5"/>` +
			`<path d="M46 31H54L55 35.5C58 38 64 38.5 68 40.5 72 42.5 73.5 46 73.5 50V67L66 75.5H34L26.5 67V50C26.5 46 28 42.5 32 40.5 36 38.5 42 38 45 35.5Z"/>` +
			`<path d="M50 38.5 51.9 50.9 57.5 48 54.6 53.6 67 55.5 54.6 57.4 57.5 63 51.9 60.1 50 72.5 48.1 60.1 42.5 63 45.4 57.4 33 55.5 45.4 53.6 42.5 48 48.1 50.9Z" fill="#fff"/>`
	case Environment: // A bare tree on a bank and a dead fish.
		return `<path d="M31 69H69V72.5H31Z"/>` +
			`<path d="M35 70C38.5 65 39 57 38.5 48L36.5 29H41L43.5 46C44 58 44.5 65 48 70Z"/>` +
			`<path d="M40 47 28 38.5M34 43 32.5 32.5M41.5 42 52 31M47 36.5 46.5 25.5M38.5 33 34 25M39.5 34 43 22M43 54 52 45.5" fill="none" stroke="#000" stroke-width="2.8"/>` +
			`<path d="M55 59C59.5 51 70.5 50 78.5 58 71.5 66.5 60.5 67 55 59Z"/>` +
			`<path d="M58 59 48.5 52C50.5 57.5 50.5 60.5 48.5 66Z"/>` +
			`<path d="M69.5 55.2 73.5 59.2M73.5 55.2 69.5 59.2" stroke="#fff" stroke-width="1.5"/>` +
			`<path d="M66.5 54C64.5 57 64.5 60.5 66.5 63.5" fill="none" stroke="#fff" stroke-width="1.6"/>`
	}
	return ""
}

// tube is a test tube that lies on the x axis, its mouth at the origin.
const tube = `<path d="M0-4.7H17A4.7 4.7 0 0 1 17 4.7H0" fill="#fff" stroke="#000" stroke-width="2.7"/><path d="M0-6.5V6.5" stroke="#000" stroke-width="3"/><path d="M1 0H17A4 4 0 0 1 14 3.4H1Z"/>`

// drop hangs from the origin.
const drop = `<path d="M0 0C2 3.5 3 4.8 3 6.6A3 3 0 0 1-3 6.6C-3 4.8-2 3.5 0 0Z"/>`
