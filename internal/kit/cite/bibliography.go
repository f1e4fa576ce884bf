package cite

// Source is a work that numbers are taken from.
type Source struct {
	Key     string
	Author  string
	Title   string
	Edition string // edition, place, year
	Seen    string // how it was read: "Project Gutenberg 61494", "quoted by …"
}

// Short is the form used in running text.
func (s Source) Short() string {
	if s.Author == "" {
		return s.Title + ", " + s.Edition
	}
	return s.Author + ", " + s.Title + ", " + s.Edition
}

// Find looks a source up by its key.
func Find(key string) (Source, bool) {
	for _, s := range Bibliography() {
		if s.Key == key {
			return s, true
		}
	}
	return Source{}, false
}

// Bibliography lists every work the program leans on, by author.
func Bibliography() []Source { return bibliography[:] }

// bibliography is a constant table; it is never written.
var bibliography = [...]Source{
	{"abbott", "Abbott", "The figures of M. Millet, p. 278", "1905", "quoted from a reprint"},
	{"aic", "American Institute for Conservation", "Commentaries to the Guidelines for Practice, 24, 25, 27 and 28", "as seen 2026", "public pages, minimum practice in part"},
	{"ajp87", "", "On timing by hand with a stopwatch: reaction to an anticipated sight, and start and stop, n = 4304", "Am. J. Phys. 87 (2), 2019, 110", "abstract only"},
	{"api9a", "American Petroleum Institute", "Specification 9A, Wire Rope", "26th ed., 2011", "Table C.1 as reprinted"},
	{"aquila", "Aquila Corde", "On the breaking index of gut strings", "as seen 2026", "aquilacorde.com"},
	{"asmeb1861", "ASME", "B18.6.1, Wood Screws", "table of sizes", "as data of a public program of fasteners"},
	{"asmeb1863", "ASME", "B18.6.3, Machine Screws", "table of sizes", "as data of a public program of fasteners"},
	{"astropy", "Astropy Project", "Documentation, timeseries: Lomb–Scargle periodograms", "as seen 2026-08", "prints and data of the example"},
	{"baluev", "R. V. Baluev", "Assessing the statistical significance of periodogram peaks", "MNRAS 385, 2008, 1279–1285", "formulas as quoted in notes"},
	{"beckett", "E. Beckett (Lord Grimthorpe)", "A Rudimentary Treatise on Clocks, Watches and Bells", "8th ed., London 1903", "Project Gutenberg 17576"},
	{"bs84", "BSI", "BS 84, Parallel screw threads of Whitworth form", "2007", "as quoted by a public specification page"},
	{"bs93", "BSI", "BS 93, British Association (BA) screw threads", "1951", "as quoted by a public specification page"},
	{"bs978", "BSI", "BS 978: Part 2, Gears for instruments and clockwork mechanisms: cycloidal type gears", "1952", "from memory; the text was not seen"},
	{"chedl", "C. Bell and others", "ChEDL chemicals: tables of IEC 60079-20-1:2010 and NFPA 497-2008", "as seen 2026", "data files of the public repository"},
	{"cci17", "Canadian Conservation Institute", "CCI Notes 1/7, on mercury", "edition not shown in the copy seen", "named in a list; the text was not seen"},
	{"cci18", "Canadian Conservation Institute", "CCI Notes 1/8, on lead", "edition not shown in the copy seen", "public copy"},
	{"cci93", "Canadian Conservation Institute", "CCI Notes 9/3, on brass", "edition not shown in the copy seen", "public copy"},
	{"cci96", "Canadian Conservation Institute", "CCI Notes 9/6, on iron", "edition not shown in the copy seen", "public copy"},
	{"ccibasic", "Canadian Conservation Institute", "Basic care: ivory and bone", "as seen 2026", "public page"},
	{"chedl", "C. Bell and others", "ChEDL chemicals: tables of IEC 60079-20-1:2010 and NFPA 497-2008", "as seen 2026", "data files of the public repository"},
	{"cipm2007", "A. Picard, R. S. Davis, M. Gläser, K. Fujii", "Revised formula for the density of moist air (CIPM-2007)", "Metrologia 45, 2008, 149–155", "constants in public implementations"},
	{"corrosion22", "", "Corrosion, on the cracking of brass in ammonia solutions", "vol. 22, no. 6", "abstract only"},
	{"courseproblem", "Florida International University", "Course MAN 4504, project 2: a network of eleven tasks", "as seen 2026", "public copy of the problem"},
	{"ctg2012", "CTG", "Technical note on flammable liquids in ultrasonic baths", "2012", "public page"},
	{"cunynghame", "H. H. Cunynghame", "Time and Clocks", "London 1906", "Project Gutenberg 54546"},
	{"derham", "W. Derham", "The Artificial Clock-maker", "London 1696", "EEBO-TCP A35722"},
	{"durbin", "J. Durbin & S. J. Koopman", "Time Series Analysis by State Space Methods", "2nd ed., Oxford 2012", "printed figures as quoted in public test programs"},
	{"eb11", "", "Encyclopaedia Britannica, article Clock", "11th ed., vol. 6, 1910", ""},
	{"eis2", "HSE (United Kingdom)", "EIS2, Engineering machine tools: emery cloth on lathes", "Rev 1", "as summed up on public pages"},
	{"en12166", "CEN", "EN 12166, Copper and copper alloys: wire", "1998", "table as reprinted"},
	{"fisher93", "N. I. Fisher", "Statistical Analysis of Circular Data", "Cambridge 1993", "from memory; the text was not seen, its series is that of public programs"},
	{"gere", "J. M. Gere", "Mechanics of Materials, appendix of properties", "edition not shown in the copy seen", ""},
	{"gmu", "George Mason University", "Course page on the large-angle pendulum (16-point Gauss)", "as seen 2026", ""},
	{"gnuunits", "GNU Project", "GNU units, definitions of wire and drill gauges", "2.22", ""},
	{"goodrich", "W. L. Goodrich", "The Modern Clock", "Chicago 1905", "Project Gutenberg 61494"},
	{"grs80", "H. Moritz", "Geodetic Reference System 1980", "J. Geodesy 74, 2000", "DGFI and IAG copies"},
	{"grubbs", "F. E. Grubbs", "Procedures for detecting outlying observations in samples", "Technometrics 11, 1969, 1–21", "table as reprinted, scribd 76685424"},
	{"gsl", "GNU Scientific Library", "specfunc/test_sf.c", "2.7.1", ""},
	{"harvey98", "D. Harvey", "Letter on ammonia and brass, Conservation DistList", "13 January 1998", "public archive"},
	{"hawkins", "N. Hawkins", "Hawkins Electrical Guide, vol. 4, table of Stubs steel wire", "1914", "public text"},
	{"hayes", "B. Hayes", "On the Teeth of Wheels", "American Scientist 88 (4), July–August 2000", "search excerpt"},
	{"hodges", "J. L. Hodges; B. Ajne", "Bivariate sign tests; tests of uniformity of a circular distribution", "Ann. Math. Statist. 26, 1955; Biometrika 55, 1968", "from memory; the text was not seen, the formula was confirmed by simulation"},
	{"indg143", "HSE (United Kingdom)", "INDG143, Manual handling at work: a brief guide, with the Manual Handling Operations Regulations 1992", "2020", "as summed up on public pages"},
	{"irr17", "United Kingdom", "Ionising Radiations Regulations 2017, with HSE L121", "2017", "as summed up by hazardsincollections.org.uk"},
	{"iso2338", "ISO", "ISO 2338, Parallel pins", "edition not shown in the copy seen", "as data of a public program of fasteners"},
	{"iso2339", "ISO", "ISO 2339, Taper pins", "edition not shown in the copy seen", "as data of a public program of fasteners"},
	{"iso262", "ISO", "ISO 262, General purpose metric screw threads: selected sizes", "edition not shown in the copy seen", "as data of a public program of fasteners"},
	{"iso286", "ISO", "ISO 286-2, Code system for tolerances: tables for holes and shafts", "edition not shown in the copy seen", "as data of a public program"},
	{"iso68", "ISO", "ISO 68-1, General purpose screw threads: basic profile", "edition not shown in the copy seen", "from memory; its figures agree with ISO 262"},
	{"iso6957", "ISO", "ISO 6957, Copper alloys: ammonia test for stress corrosion resistance", "1988", "scope only"},
	{"ivoryact", "United Kingdom", "Ivory Act 2018", "2018", "as summed up on public pages"},
	{"jerome", "C. Jerome", "History of the American Clock Business for the Past Sixty Years", "New Haven 1860", "chapter XIV of a public copy; place and year from memory"},
	{"kosinski", "R. J. Kosinski", "A literature review on reaction time", "Clemson University, as seen 2026", "public copy"},
	{"lagrange", "J.-L. Lagrange", "Œuvres, vol. VII: on continued fractions", "Paris, Gauthier-Villars", "pp. 39–42 as quoted in a public page; year of print not seen"},
	{"lm66", "V. F. Lenzen & R. P. Multhauf", "Development of Gravity Pendulums in the 19th Century", "Smithsonian, USNM Bulletin 240, Paper 44, 1966", "Project Gutenberg 35024"},
	{"machinehand", "", "Birmingham wire gauge, 4/0 to 36", "as older handbooks print it", "public table; the work was not named"},
	{"machinery", "European Union", "Directive 2006/42/EC on machinery, Annex I", "2006", "from memory; the text was not seen"},
	{"mardia", "K. V. Mardia & P. E. Jupp", "Directional Statistics", "Wiley 2000", "data and figures of example 1.1 as in public test programs"},
	{"matthys", "R. J. Matthys", "Accurate Clock Pendulums, abstracts of ch. 27 and 30", "Oxford 2004", "abstracts only"},
	{"mazurka", "", "Experiment on even tapping to 3,000 clicks", "as seen 2026", "mazurka.org.uk"},
	{"nga8350", "NIMA", "TR8350.2, World Geodetic System 1984", "3rd ed., amendment 1, 2000", "constants and eq. 4-1, 4-3"},
	{"npg", "NIOSH", "Pocket Guide to Chemical Hazards", "as seen 2026", "mirror of entries 0262 and 0359"},
	{"oar333", "State of Oregon", "Oregon Administrative Rules 333-102-0015, a state copy of 10 CFR 30.15", "as seen 2026", ""},
	{"objectid", "J. Paul Getty Trust and ICOM", "Object ID checklist", "1997", ""},
	{"oshacsi", "OSHA", "Chemical Sampling Information, with limits of NIOSH and Ontario", "2012 and as seen 2026", ""},
	{"places", "", "Table of observed gravity at twelve places", "teaching booklet, three decimals", "studylib 7792546"},
	{"playtner", "H. R. Playtner", "An Analysis of the Lever Escapement", "edition not shown in the copy seen", "Project Gutenberg 21978"},
	{"prolift", "", "Grades of wire rope and factors for lifting", "as seen 2026", "prolift-lifting.com"},
	{"qproblems", "", "Two worked problems on the Q of a weight-driven clock", "as seen 2026", "justaaa 360495, physicsforums 718663"},
	{"repp", "B. H. Repp", "Sensorimotor synchronization: a review of the tapping literature", "Psychonomic Bulletin & Review 12, 2005, 969–992", "abstract seen; figures from memory"},
	{"rosner", "B. Rosner", "Percentage points for a generalized ESD many-outlier procedure", "Technometrics 25, 1983, 165–172", "data of the example as quoted in a public manual"},
	{"sabine", "E. Sabine", "Abstracts of the Philosophical Transactions, invariable pendulum", "1818–1822", ""},
	{"scargle", "J. D. Scargle", "Studies in astronomical time series analysis II", "ApJ 263, 1982, 835–853", "from memory; the text was not seen"},
	{"si", "BIPM", "The International System of Units", "9th ed., 2019", ""},
	{"simetric", "SImetric", "List of densities", "as seen 2026", ""},
	{"smsfusion", "", "smsfusion test suite, test_gravity", "as seen 2026", ""},
	{"sp1065", "W. J. Riley", "Handbook of Frequency Stability Analysis", "NIST Special Publication 1065, 2008", "its two test suites as printed, seen in public test programs"},
	{"spectrum", "Collections Trust", "Spectrum, collections care and conservation", "summary of 3.1, draft of 5.0", "public copies"},
	{"statsmodels", "S. Seabold, J. Perktold & others", "statsmodels, a Python library of statistical models", "0.13.5, 2022", "UnobservedComponents; run here for comparison"},
	{"strd", "NIST", "Statistical Reference Datasets, linear regression", "certified values, 1997", "data and values as in public test programs; recomputed here in exact fractions"},
	{"threadspec", "", "Specification page on British Standard Brass, 26 to the inch", "as seen 2026", "public page"},
	{"threepoint", "", "Two public pages with worked three-point estimates", "as seen 2026", "calhub.xyz/other/pert, schematex.js.org/examples/pert-three-point-estimation"},
	{"tokai", "Tokai", "Spring design: inputs of a worked spiral spring", "as seen 2026", "inputs read; the printed answers are pictures and were not seen"},
	{"vornbaeumen", "Vornbäumen", "Technical notes on steel wire ropes, factors K", "as seen 2026", ""},
	{"westfall", "P. H. Westfall & S. S. Young", "Resampling-based Multiple Testing", "Wiley 1993", "from memory; the text was not seen"},
}
