"use strict";
// Sets every label in the largest text that fits. A step is a set of classes for words and
// symbols, the scale of the large words, and how many times the least size the text must have.
const steps = [["large", 1, 1.9], ["", 1, 1.75], ["", .75, 1.6], ["large", 1, 1.4], ["", 1, 1.4], ["", .75, 1.35], ["large", .75, 1.2], ["", 1, 1.3], ["", .75, 1.15], ["", .55, 1],
	["brief", .75, 1.1], ["brief", .55, 1], ["brief barest", .6, 1], ["brief barest", .45, 1], ["brief barest broken", .45, 1]];
const most = 7; // mm, keeps the text of a large label in proportion
const narrowest = 10; // em, a column of text beside the symbols, with the gap
const spare = .98; // letters on paper are sometimes wider than on the screen

// Symbols are squares on their points, which fit into each other: where the i-th stands, in
// half symbols across and down.
const shapes = [i => [2 * i, 0], i => [i, i % 2], i => [i % 2, i], i => [0, 2 * i],
	i => [i % 3 === 2 ? 1 : i % 3 * 2, Math.floor(i / 3) * 2 + (i % 3 === 2 ? 1 : 0)]];

function fit(label) {
	const kind = label.className, least = parseFloat(label.style.fontSize) / spare, symbols = label.querySelector(".symbols");
	const boxes = [label, ...label.querySelectorAll(".title, .bar, .boxes")];
	const all = ["main", "end", "head"].flatMap(before => (symbols.children.length > 1 ? shapes : shapes.slice(0, 1)).map(shape => [before, shape]));
	const set = (size, [words, large], [before, shape]) => {
		label.className = [kind, words, before === "end" ? "below" : ""].join(" ");
		label.style.setProperty("--large", large);
		label.style.fontSize = size + "mm";
		label.querySelector("." + before).before(symbols);
		[...symbols.children].forEach((symbol, i) => {
			const [x, y] = shape(i);
			symbol.style.gridArea = `${y + 1} / ${x + 1} / span 2 / span 2`;
		});
		const column = before === "end" ? 0 : narrowest * size * 96 / 25.4; // 96 px to the inch
		return label.scrollHeight <= label.clientHeight && boxes.every(box => box.scrollWidth <= box.clientWidth) && symbols.offsetLeft >= column;
	};
	const fits = (size, step, layout) => set(size, step, layout) && set(size * spare, step, layout);
	for (const step of steps) {
		const floor = least * step[2], layouts = all.filter(layout => fits(floor, step, layout));
		for (let size = most; layouts.length > 0; size = Math.max(size * .95, floor)) {
			const layout = layouts.find(layout => fits(size, step, layout));
			if (!layout) continue;
			let large = step[1], line = 1.15; // what is left goes to the large words, then between the lines
			while (large < 2 && fits(size, [step[0], large + .05], layout)) large += .05;
			const lined = high => (label.style.lineHeight = high, fits(size, [step[0], large], layout));
			while (line < 1.4 && lined(line + .02)) line += .02;
			lined(line);
			return;
		}
	}
	label.classList.add("unfit");
}

const fitted = new Map(); // copies are fitted once
for (const label of document.querySelectorAll(".label")) {
	const text = label.innerHTML;
	if (fitted.has(text)) label.replaceWith(fitted.get(text).cloneNode(true));
	else fit(label), fitted.set(text, label);
}
document.querySelector(".unfitted").remove();
