"use strict";
// Sets a sheet in the largest letters that leave it on one page. What is read from two metres has
// the steps of the ladder, in mm, gone down in eighths: capitals, amounts, loads, dips. First the
// steps of the work stand there in full, then in few words; a sheet that is still too high has its
// loads side by side, and then all of it gets smaller.
{
const names = ["--capitals", "--amount", "--load", "--dip"];
const ladder = [[11.2, 10, 14, 26], [8, 9, 13, 22], [8, 8.5, 12, 18], [8, 8, 11, 15], [7, 7, 10.5, 13], [6, 6, 9.5, 11.5], [5, 5.6, 8, 10], [4.4, 5, 6, 8], [4.4, 5, 4.4, 6]];
const full = 3; // the last step of the ladder with the steps in full
const spare = .99; // letters on paper are sometimes wider than on the screen

function fit(sheet) {
	const mm = 25.4 / 96, room = parseFloat(sheet.dataset.room) * spare, wide = 190;
	const set = (name, value) => sheet.style.setProperty(name, value);
	const high = () => sheet.getBoundingClientRect().height * mm;
	const at = step => {
		const a = ladder[Math.floor(step)], b = ladder[Math.ceil(step)], t = step % 1;
		names.forEach((name, i) => set(name, a[i] + (b[i] - a[i]) * t + "mm"));
		return high() <= room && sheet.scrollWidth <= sheet.clientWidth;
	};
	const fits = last => { // whole steps first, then the eighths before the one that fits
		for (let step = 0; step <= last; step++) {
			if (!at(step)) continue;
			for (let finer = Math.max(step - 7 / 8, 0); finer <= step; finer += 1 / 8) if (at(finer)) return true;
		}
		return false;
	};
	const scaled = () => { // the largest scale at which the sheet is no higher than the paper
		for (let scale = .99; scale > .3; scale -= .01) {
			sheet.style.width = wide / scale + "mm";
			if (high() * scale <= room) return scale - .01; // lines break elsewhere when they are scaled
		}
		return .3;
	};
	const part = table => { // an action stays with the load that it follows
		const rows = [...table.rows], top = rows[0].getBoundingClientRect().top;
		const cut = rows.findIndex((row, i) => i > 1 && row.classList.contains("one") && row.getBoundingClientRect().top - top >= table.getBoundingClientRect().height / 2);
		if (cut < 0) return;
		const other = table.cloneNode(false);
		other.append(rows[0].cloneNode(true), ...rows.slice(cut));
		table.after(other);
	};
	sheet.classList.add("measured");
	sheet.style.width = wide + "mm";
	let scale = 1;
	if (!fits(full)) {
		sheet.classList.add("brief");
		if (!fits(ladder.length - 1) && (scale = scaled()) < .8) {
			sheet.querySelectorAll("table").forEach(part);
			scale = scaled();
		}
	}
	sheet.classList.remove("measured");
	sheet.style.width = "";
	set("--zoom", scale);
	set("--wide", wide / scale + "mm");
	set("--high", (parseFloat(sheet.dataset.room) - 1) / scale + "mm");
}

for (const sheet of document.querySelectorAll(".sheet:not(.fitted)")) {
	if (innerWidth > 760) fit(sheet);
	sheet.classList.add("fitted");
}
}
