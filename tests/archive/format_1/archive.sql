PRAGMA application_id = 1701733993;
BEGIN TRANSACTION;
CREATE TABLE answers (
	id INTEGER NOT NULL, 
	released BOOLEAN NOT NULL, 
	project INTEGER NOT NULL, 
	lesson TEXT NOT NULL, 
	about TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	who TEXT NOT NULL, 
	"on" TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (project, lesson, about), 
	FOREIGN KEY(project) REFERENCES projects (id)
);
CREATE TABLE figures (
	id INTEGER NOT NULL, 
	released BOOLEAN NOT NULL, 
	project INTEGER NOT NULL, 
	space TEXT NOT NULL, 
	use TEXT NOT NULL, 
	record TEXT NOT NULL, 
	what TEXT NOT NULL, 
	name TEXT NOT NULL, 
	value FLOAT NOT NULL, 
	state TEXT NOT NULL, 
	rule TEXT NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	PRIMARY KEY (id)
);
INSERT INTO "figures" VALUES(1,0,1,'kitchen','kitchen','kitchen','room','area',11148364.8,'','',1,NULL);
INSERT INTO "figures" VALUES(2,0,1,'kitchen','kitchen','kitchen','room','length',3657.6,'','',1,NULL);
INSERT INTO "figures" VALUES(3,0,1,'kitchen','kitchen','kitchen','room','width',3048.0,'','',1,NULL);
INSERT INTO "figures" VALUES(4,0,1,'kitchen','kitchen','kitchen','room','height',2438.4,'','',1,NULL);
INSERT INTO "figures" VALUES(5,0,1,'scullery','scullery','scullery','room','area',5574182.4,'','',1,NULL);
INSERT INTO "figures" VALUES(6,0,1,'scullery','scullery','scullery','room','length',3048.0,'','',1,NULL);
INSERT INTO "figures" VALUES(7,0,1,'scullery','scullery','scullery','room','width',1828.8,'','',1,NULL);
INSERT INTO "figures" VALUES(8,0,1,'kitchen','kitchen','counter','counter','length',2438.4,'','',1,NULL);
INSERT INTO "figures" VALUES(9,0,1,'kitchen','kitchen','counter','counter','width',635.0,'','',1,NULL);
INSERT INTO "figures" VALUES(10,0,1,'kitchen','kitchen','counter','counter','depth',635.0,'','',1,NULL);
INSERT INTO "figures" VALUES(11,0,1,'kitchen','kitchen','counter','counter','height',914.4,'','',1,NULL);
INSERT INTO "figures" VALUES(12,0,1,'kitchen','kitchen','counter','counter','area',1548384.0,'','',1,NULL);
INSERT INTO "figures" VALUES(13,0,1,'kitchen','kitchen','sink','sink','length',762.0,'','',1,NULL);
INSERT INTO "figures" VALUES(14,0,1,'kitchen','kitchen','sink','sink','width',762.0,'','',1,NULL);
INSERT INTO "figures" VALUES(15,0,1,'kitchen','kitchen','sink','sink','depth',508.0,'','',1,NULL);
INSERT INTO "figures" VALUES(16,0,1,'kitchen','kitchen','sink','sink','height',914.4,'','',1,NULL);
INSERT INTO "figures" VALUES(17,0,1,'kitchen','kitchen','sink','sink','area',387096.0,'','',1,NULL);
INSERT INTO "figures" VALUES(18,0,1,'','','Q13:width:kitchen','finding','measured',0.0,'falls short','Q13',1,NULL);
INSERT INTO "figures" VALUES(19,0,1,'scullery','scullery','R1::n1','finding','measured',1.0,'met','R1',1,NULL);
INSERT INTO "figures" VALUES(20,0,1,'scullery','scullery','R2::d1','finding','measured',1.0,'met','R2',1,NULL);
INSERT INTO "figures" VALUES(21,0,1,'scullery','scullery','R3::d1','finding','measured',0.0,'falls short','R3',1,NULL);
INSERT INTO "figures" VALUES(22,0,1,'kitchen','kitchen','K25:total:kitchen','finding','measured',1676.4,'falls short','K25',1,NULL);
INSERT INTO "figures" VALUES(23,0,1,'kitchen','kitchen','K31:glazing:kitchen','finding','measured',0.0,'falls short','K31',1,NULL);
INSERT INTO "figures" VALUES(24,0,1,'kitchen','kitchen','I303a:glazing:kitchen','finding','measured',0.0,'falls short','I303a',1,NULL);
INSERT INTO "figures" VALUES(25,0,1,'kitchen','kitchen','I303a:openable:kitchen','finding','measured',11.111,'met','I303a',1,NULL);
INSERT INTO "figures" VALUES(26,0,1,'kitchen','kitchen','K2:entry-door:door','finding','measured',0.0,'met','K2',1,NULL);
INSERT INTO "figures" VALUES(27,0,1,'kitchen','kitchen','K1::door','finding','measured',863.6,'met','K1',1,NULL);
INSERT INTO "figures" VALUES(28,0,1,'kitchen','kitchen','R7::kitchen','finding','measured',0.0,'met','R7',1,NULL);
INSERT INTO "figures" VALUES(29,0,1,'scullery','scullery','R7::scullery','finding','measured',0.0,'met','R7',1,NULL);
INSERT INTO "figures" VALUES(30,0,1,'kitchen','kitchen','K12:width:sink+counter','finding','measured',1066.8,'met','K12',1,NULL);
INSERT INTO "figures" VALUES(31,0,1,'kitchen','kitchen','K12:depth:sink+counter','finding','measured',635.0,'met','K12',1,NULL);
INSERT INTO "figures" VALUES(32,0,1,'kitchen','kitchen','D5::door','finding','measured',90.0,'met','D5',1,NULL);
INSERT INTO "figures" VALUES(33,0,1,'kitchen','kitchen','D4::door+kitchen','finding','measured',0.0,'met','D4',1,NULL);
INSERT INTO "figures" VALUES(34,0,1,'kitchen','kitchen','I305:rooms:kitchen','finding','measured',2438.4,'met','I305',1,NULL);
INSERT INTO "figures" VALUES(35,0,1,'kitchen','kitchen','I305:beams:kitchen+beam','finding','measured',2100.0,'met','I305',1,NULL);
INSERT INTO "figures" VALUES(36,0,1,'scullery','scullery','T5::d1','finding','measured',0.0,'falls short','T5',1,NULL);
INSERT INTO "figures" VALUES(37,0,1,'kitchen','kitchen','T7::kitchen','finding','measured',1.0,'met','T7',1,NULL);
INSERT INTO "figures" VALUES(38,0,1,'scullery','scullery','T7::scullery','finding','measured',0.0,'falls short','T7',1,NULL);
INSERT INTO "figures" VALUES(39,0,1,'kitchen','kitchen','K11b:depth-left:sink+counter','finding','measured',635.0,'met','K11b',1,NULL);
INSERT INTO "figures" VALUES(40,0,1,'kitchen','kitchen','K11b:depth-right:sink+counter','finding','measured',635.0,'met','K11b',1,NULL);
INSERT INTO "figures" VALUES(41,0,1,'kitchen','kitchen','K11b:height-left:sink+counter','finding','measured',914.4,'met','K11b',1,NULL);
INSERT INTO "figures" VALUES(42,0,1,'kitchen','kitchen','K11b:height-right:sink+counter','finding','measured',914.4,'met','K11b',1,NULL);
INSERT INTO "figures" VALUES(43,0,1,'kitchen','kitchen','K11:longer-side:sink','finding','measured',1066.8,'met','K11',1,NULL);
INSERT INTO "figures" VALUES(44,0,1,'kitchen','kitchen','K11:shorter-side:sink','finding','measured',609.6,'met','K11',1,NULL);
INSERT INTO "figures" VALUES(45,0,1,'kitchen','kitchen','R4::kitchen','finding','measured',0.0,'met','R4',1,NULL);
INSERT INTO "figures" VALUES(46,0,1,'kitchen','kitchen','R5::kitchen','finding','measured',0.0,'met','R5',1,NULL);
INSERT INTO "figures" VALUES(47,0,1,'kitchen','kitchen','K27:small:kitchen','finding','measured',0.0,'falls short','K27',1,NULL);
INSERT INTO "figures" VALUES(48,0,1,'kitchen','kitchen','K27b:small-wall:kitchen','finding','measured',0.0,'falls short','K27b',1,NULL);
INSERT INTO "figures" VALUES(49,0,1,'kitchen','kitchen','K27b:small-base:kitchen','finding','measured',0.0,'falls short','K27b',1,NULL);
INSERT INTO "figures" VALUES(50,0,1,'kitchen','kitchen','K27b:small-drawer:kitchen','finding','measured',0.0,'falls short','K27b',1,NULL);
INSERT INTO "figures" VALUES(51,0,1,'kitchen','kitchen','K27b:small-pantry:kitchen','finding','measured',0.0,'falls short','K27b',1,NULL);
INSERT INTO "figures" VALUES(52,0,1,'kitchen','kitchen','K28:small:sink','finding','measured',0.0,'falls short','K28',1,NULL);
INSERT INTO "figures" VALUES(53,0,1,'kitchen','kitchen','Q5:two-people-base:kitchen','finding','measured',0.0,'falls short','Q5',1,NULL);
INSERT INTO "figures" VALUES(54,0,1,'kitchen','kitchen','Q5:two-people-wall:kitchen','finding','measured',0.0,'falls short','Q5',1,NULL);
INSERT INTO "figures" VALUES(55,0,1,'kitchen','kitchen','Q16:per-person:kitchen','finding','measured',0.0,'falls short','Q16',1,NULL);
INSERT INTO "figures" VALUES(56,0,1,'kitchen','kitchen','K14::kitchen','finding','measured',0.0,'falls short','K14',1,NULL);
INSERT INTO "figures" VALUES(57,0,1,'scullery','scullery','d1','decision','cost',300.0,'built','',1,NULL);
CREATE TABLE files (
	id INTEGER NOT NULL, 
	released BOOLEAN NOT NULL, 
	digest BLOB NOT NULL, 
	size INTEGER NOT NULL, 
	manifest BLOB NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (released, digest)
);
INSERT INTO "files" VALUES(1,0,X'9E176EF4574E46F3A620AA0E6DA9A91485394E5C913A09047EC14A478928D870',2188,X'0148896D914F6FC3200CC5BF0AE29C55CBFE74536F558F3B4CDAB5F4C0C05DAC26A6C244D514F5BB0FEA346BB49D30CF3FDE03BCD58321A58CDE87D8D964F44AD59528E8CBCEE8D0FABB26F40C468F1DB21D48EFBDF56ADE732D025D7C0601B9D45BA3D70BB5197BBB2A83D6FB08CCE253ABE2F4116CCE3C8F4E17DF26A7174457F57D75CDF88C087B519793C84D3889F63869DF367A4EE80E92D2F3744D3E5A77BD5A165409188F95FAA1D2A5DC8D743802217DCDF99739939A3FC4D38DE3EB9CF6E09031D0FCC0F31CB2C42788B7C8F03B165BE7C794C121F99C2CE2DB7265915B58B9D0538228C82123D24F41755036E7DB1C76118FE9FF181E632E1F26D201936B80446F91A6116F42070A6991272CFE86F2AA773F221EB071');
INSERT INTO "files" VALUES(2,0,X'F3A25AA93AA2FBBA28D79260535BBD6A5EB0FC1C24A8B0F04E12B484C1DFE363',768,X'005B395D');
INSERT INTO "files" VALUES(3,0,X'2396C20CAEA1AEC55B9BBA8C9680A53688A9229DC848FAAD9C03A840EDFDBD88',2195,X'0148896D914F4FC3300CC5BF4A947399287F06EA0DED081212D765879078D45AEB4C71A6094DFBEE24755756C1A9CEF32FEF39F55A9F0C2965F436C4DE26A31B5557A2A02F27A343E76FDA7060307AEC90ED417A6F36416CD47BE7D51C711D020D7627E1B9D46BA35F166A35F6365506ADF71198C5AE1E9C3E82CDD1E7D169F06DF31005D1557D5B5D323E23C256D4E524721B8EA2DD4FDAB78D9E13BA9DA41C781A93F7D65D46CB822A01E3B552DF55BA949B910E7B20A4AF39FF346752FB8778B8727C9ED31E1C32069A5F789C4396F808F11A39FD6EC7D6F931657F483E278BF8BA6C2C72078D0B07CA1B12649711E9A7A07A2887F3750EBB88FBF47F0C8F31C30F136987C9B540A27748D38A57A10785B4C81B167F43F9AB373FAB26B2C3');
CREATE TABLE info (
	"key" TEXT NOT NULL, 
	value TEXT NOT NULL, 
	PRIMARY KEY ("key")
);
INSERT INTO "info" VALUES('format','1');
INSERT INTO "info" VALUES('id','752bc5854fea4526850065c638f483a3');
INSERT INTO "info" VALUES('holds','all');
CREATE TABLE lesson_facets (
	released BOOLEAN NOT NULL, 
	facet TEXT NOT NULL, 
	lesson INTEGER NOT NULL, 
	PRIMARY KEY (released, facet, lesson)
)
 WITHOUT ROWID

;
INSERT INTO "lesson_facets" VALUES(0,'word boots',1);
INSERT INTO "lesson_facets" VALUES(0,'word place',1);
INSERT INTO "lesson_facets" VALUES(0,'word wash',1);
CREATE TABLE lessons (
	id INTEGER NOT NULL, 
	released BOOLEAN NOT NULL, 
	project INTEGER NOT NULL, 
	record TEXT NOT NULL, 
	content TEXT NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(project) REFERENCES projects (id)
);
INSERT INTO "lessons" VALUES(1,0,1,'d1','{"choice":"A low sink","figures":[],"needs":["A place to wash boots."],"number":1,"record":"d1","text":"Lower still.","things":[],"title":"Boots","uses":["scullery"]}',1,NULL);
CREATE TABLE notes (
	id INTEGER NOT NULL, 
	released BOOLEAN NOT NULL, 
	project INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	record TEXT NOT NULL, 
	space TEXT NOT NULL, 
	use TEXT NOT NULL, 
	state TEXT NOT NULL, 
	rule TEXT NOT NULL, 
	text TEXT NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	PRIMARY KEY (id)
);
INSERT INTO "notes" VALUES(1,0,1,'need','n1','scullery','scullery','','','A place to wash boots.',1,NULL);
INSERT INTO "notes" VALUES(2,0,1,'decision','d1','scullery','scullery','built','','Boots. A low sink',1,NULL);
INSERT INTO "notes" VALUES(3,0,1,'lesson','d1','scullery','scullery','built','','Lower still.',1,NULL);
INSERT INTO "notes" VALUES(4,0,1,'finding','K18:unprotected:kitchen','kitchen','kitchen','not assessed','K18','Height from the cooking surface to an unprotected surface above: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(5,0,1,'finding','K6:one-cook:counter+k-s','kitchen','kitchen','not assessed','K6','Work aisle, one cook: not assessed, the source does not say.',1,NULL);
INSERT INTO "notes" VALUES(6,0,1,'finding','Q3:two-people:kitchen','kitchen','kitchen','not assessed','Q3','Refrigerator volume for a household of two: not assessed, a fact is not recorded. Needed: kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(7,0,1,'finding','Q4::kitchen','kitchen','kitchen','not assessed','Q4','Refrigerator volume for each adult: not assessed, a fact is not recorded. Needed: kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(8,0,1,'finding','P4::kitchen','kitchen','kitchen','not assessed','P4','Refrigerator volume for each person, freezer apart: not assessed, a fact is not recorded. Needed: kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(9,0,1,'finding','R6::kitchen','kitchen','kitchen','not assessed','R6','Burners and ovens for the household: not assessed, the source does not say.',1,NULL);
INSERT INTO "notes" VALUES(10,0,1,'finding','Q13:width:kitchen','','','falls short','Q13','Dining places for the largest gathering: none. Dining place, handbooks of dimensions asks at least 8.',1,NULL);
INSERT INTO "notes" VALUES(11,0,1,'finding','K16:landing:kitchen','kitchen','kitchen','not assessed','K16','Landing for the refrigerator: not assessed, a fact is not recorded. Needed: kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(12,0,1,'finding','K16:across:kitchen','kitchen','kitchen','not assessed','K16','Distance from the refrigerator to the landing across from it: not assessed, a fact is not recorded. Needed: kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(13,0,1,'finding','R1::n1','scullery','scullery','met','R1','Decisions that answer a need: 1. Own rule on needs asks at least 1.',1,NULL);
INSERT INTO "notes" VALUES(14,0,1,'finding','R2::d1','scullery','scullery','met','R2','Needs that a decision answers: 1. Own rule on decisions asks at least 1.',1,NULL);
INSERT INTO "notes" VALUES(15,0,1,'finding','R3::d1','scullery','scullery','falls short','R3','Reasons given for a decision: none. Own rule on reasons asks at least 1.',1,NULL);
INSERT INTO "notes" VALUES(16,0,1,'finding','K17:longer-side:kitchen','kitchen','kitchen','not assessed','K17','Landing beside the cooking surface, longer side: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(17,0,1,'finding','K17:shorter-side:kitchen','kitchen','kitchen','not assessed','K17','Landing beside the cooking surface, other side: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(18,0,1,'finding','K17b::kitchen','kitchen','kitchen','not assessed','K17b','Depth of the counter behind a cooking surface on an island: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(19,0,1,'finding','K17c::kitchen','kitchen','kitchen','not assessed','K17c','Enclosed cooking surface: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(20,0,1,'finding','K26::counter','kitchen','kitchen','not assessed','K26','Square or sharp counter corners: not assessed, a fact is not recorded. Needed: counter: the shape of its corners.',1,NULL);
INSERT INTO "notes" VALUES(21,0,1,'finding','K25:total:kitchen','kitchen','kitchen','falls short','K25','Total counter frontage: 66". Kitchen guideline 25 asks at least 158"; 92" short.',1,NULL);
INSERT INTO "notes" VALUES(22,0,1,'finding','K31:glazing:kitchen','kitchen','kitchen','falls short','K31','Window and skylight share of the floor: 0%. Kitchen guideline 31, code part asks at least 8%; 8% short.',1,NULL);
INSERT INTO "notes" VALUES(23,0,1,'finding','I303a:glazing:kitchen','kitchen','kitchen','falls short','I303a','Glazed share of the floor: 0%. Residential code R303.1 asks at least 8%; 8% short.',1,NULL);
INSERT INTO "notes" VALUES(24,0,1,'finding','I303a:openable:kitchen','kitchen','kitchen','met','I303a','Openable share of the floor: 11.1%. Residential code R303.1 asks at least 4%; 7.1% to spare.',1,NULL);
INSERT INTO "notes" VALUES(25,0,1,'finding','K2:entry-door:door','kitchen','kitchen','met','K2','Floor that an entry door shares with an appliance or its open door: none. Kitchen guideline 2 asks none.',1,NULL);
INSERT INTO "notes" VALUES(26,0,1,'finding','K1::door','kitchen','kitchen','met','K1','Entry door, clear opening: 34". Kitchen guideline 1 asks at least 32"; 2" to spare.',1,NULL);
INSERT INTO "notes" VALUES(27,0,1,'finding','K20:under-window:kitchen','kitchen','kitchen','not assessed','K20','Windows that open above the cooking surface: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(28,0,1,'finding','K20:window-dressing:kitchen','kitchen','kitchen','not assessed','K20','Window dressings above the cooking surface that burn easily: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(29,0,1,'finding','K20:extinguisher:kitchen','kitchen','kitchen','not assessed','K20','Fire extinguishers near a way out: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(30,0,1,'finding','K31:task-light:kitchen','kitchen','kitchen','not assessed','K31','Work surfaces without task light: not assessed, a fact is not recorded. Needed: the lights of kitchen.',1,NULL);
INSERT INTO "notes" VALUES(31,0,1,'finding','K31:switched-light:kitchen','kitchen','kitchen','not assessed','K31','Lights with a switch at the way in: not assessed, a fact is not recorded. Needed: the lights of kitchen; the switches of kitchen.',1,NULL);
INSERT INTO "notes" VALUES(32,0,1,'finding','K10::sink','kitchen','kitchen','not assessed','K10','Cooking and refrigerator that the only sink serves: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface; kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(33,0,1,'finding','R7::kitchen','kitchen','kitchen','met','R7','Sizes that no such thing has: none. Own rule on likely sizes asks none.',1,NULL);
INSERT INTO "notes" VALUES(34,0,1,'finding','R7::scullery','scullery','scullery','met','R7','Sizes that no such thing has: none. Own rule on likely sizes asks none.',1,NULL);
INSERT INTO "notes" VALUES(35,0,1,'finding','K12:width:sink+counter','kitchen','kitchen','met','K12','Preparation area, width: 42". Kitchen guideline 12 asks at least 36"; 6" to spare.',1,NULL);
INSERT INTO "notes" VALUES(36,0,1,'finding','K12:depth:sink+counter','kitchen','kitchen','met','K12','Preparation area, depth: 25". Kitchen guideline 12 asks at least 24"; 1" to spare.',1,NULL);
INSERT INTO "notes" VALUES(37,0,1,'finding','K30:unprotected:kitchen','kitchen','kitchen','not assessed','K30','Counter receptacles without ground-fault protection: not assessed, a fact is not recorded. Needed: the receptacles of kitchen.',1,NULL);
INSERT INTO "notes" VALUES(38,0,1,'finding','IE1:count:counter+sink','kitchen','kitchen','not assessed','IE1','Receptacles along a piece of wall counter: not assessed, a fact is not recorded. Needed: the receptacles of kitchen.',1,NULL);
INSERT INTO "notes" VALUES(39,0,1,'finding','IE1:count:sink+counter','kitchen','kitchen','not assessed','IE1','Receptacles along a piece of wall counter: not assessed, a fact is not recorded. Needed: the receptacles of kitchen.',1,NULL);
INSERT INTO "notes" VALUES(40,0,1,'finding','D5::door','kitchen','kitchen','met','D5','Angle to which a room door opens: 90°. Common practice asks at least 90°; exactly.',1,NULL);
INSERT INTO "notes" VALUES(41,0,1,'finding','D4::door+kitchen','kitchen','kitchen','met','D4','Area where an open room door meets what opens behind it: none. Common practice asks none.',1,NULL);
INSERT INTO "notes" VALUES(42,0,1,'finding','I305:rooms:kitchen','kitchen','kitchen','met','I305','Ceiling height, rooms and halls: 96". Residential code R305.1 asks at least 84"; 12" to spare.',1,NULL);
INSERT INTO "notes" VALUES(43,0,1,'finding','I305:beams:kitchen+beam','kitchen','kitchen','met','I305','Height under beams and ducts: 82 11/16". Residential code R305.1 asks at least 76"; 6 11/16" to spare.',1,NULL);
INSERT INTO "notes" VALUES(44,0,1,'finding','I305:rooms:scullery','scullery','scullery','not assessed','I305','Ceiling height, rooms and halls: not assessed, a fact is not recorded. Needed: scullery: ceiling.',1,NULL);
INSERT INTO "notes" VALUES(45,0,1,'finding','T5::d1','scullery','scullery','falls short','T5','Times that a decision which was taken is told: none. Own rule on telling all asks at least 1.',1,NULL);
INSERT INTO "notes" VALUES(46,0,1,'finding','T7::kitchen','kitchen','kitchen','met','T7','Lines that are said in a room: 1. Own rule on rooms that are told asks at least 1.',1,NULL);
INSERT INTO "notes" VALUES(47,0,1,'finding','T7::scullery','scullery','scullery','falls short','T7','Lines that are said in a room: none. Own rule on rooms that are told asks at least 1.',1,NULL);
INSERT INTO "notes" VALUES(48,0,1,'finding','K11b:depth-left:sink+counter','kitchen','kitchen','met','K11b','Landing area, depth of the counter: 25". Kitchen guideline 11 asks at least 16"; 9" to spare.',1,NULL);
INSERT INTO "notes" VALUES(49,0,1,'finding','K11b:depth-right:sink+counter','kitchen','kitchen','met','K11b','Landing area, depth of the counter: 25". Kitchen guideline 11 asks at least 16"; 9" to spare.',1,NULL);
INSERT INTO "notes" VALUES(50,0,1,'finding','K11b:height-left:sink+counter','kitchen','kitchen','met','K11b','Landing area, height of the counter: 36". Kitchen guideline 11 asks between 28" and 45"; 8" to spare.',1,NULL);
INSERT INTO "notes" VALUES(51,0,1,'finding','K11b:height-right:sink+counter','kitchen','kitchen','met','K11b','Landing area, height of the counter: 36". Kitchen guideline 11 asks between 28" and 45"; 8" to spare.',1,NULL);
INSERT INTO "notes" VALUES(52,0,1,'finding','K11:longer-side:sink','kitchen','kitchen','met','K11','Landing beside a cleanup or preparation sink, longer side: 42". Kitchen guideline 11 asks at least 24"; 18" to spare.',1,NULL);
INSERT INTO "notes" VALUES(53,0,1,'finding','K11:shorter-side:sink','kitchen','kitchen','met','K11','Landing beside a cleanup or preparation sink, other side: 24". Kitchen guideline 11 asks at least 18"; 6" to spare.',1,NULL);
INSERT INTO "notes" VALUES(54,0,1,'finding','R4::kitchen','kitchen','kitchen','met','R4','Length by which a thing sticks out of its room: none. Own rule on things inside the room asks none.',1,NULL);
INSERT INTO "notes" VALUES(55,0,1,'finding','R5::kitchen','kitchen','kitchen','met','R5','Area that two solid things share: none. Own rule on things clear of each other asks none.',1,NULL);
INSERT INTO "notes" VALUES(56,0,1,'finding','K27:small:kitchen','kitchen','kitchen','falls short','K27','Shelf and drawer frontage, small kitchen: 0". Kitchen guideline 27 asks at least 1400"; 1400" short.',1,NULL);
INSERT INTO "notes" VALUES(57,0,1,'finding','K27b:small-wall:kitchen','kitchen','kitchen','falls short','K27b','Frontage of wall cabinets, small kitchen: 0". Kitchen guideline 27 asks at least 300"; 300" short.',1,NULL);
INSERT INTO "notes" VALUES(58,0,1,'finding','K27b:small-base:kitchen','kitchen','kitchen','falls short','K27b','Frontage of base cabinets, small kitchen: 0". Kitchen guideline 27 asks at least 520"; 520" short.',1,NULL);
INSERT INTO "notes" VALUES(59,0,1,'finding','K27b:small-drawer:kitchen','kitchen','kitchen','falls short','K27b','Frontage of drawers, small kitchen: 0". Kitchen guideline 27 asks at least 360"; 360" short.',1,NULL);
INSERT INTO "notes" VALUES(60,0,1,'finding','K27b:small-pantry:kitchen','kitchen','kitchen','falls short','K27b','Frontage of pantry storage, small kitchen: 0". Kitchen guideline 27 asks at least 180"; 180" short.',1,NULL);
INSERT INTO "notes" VALUES(61,0,1,'finding','K28:small:sink','kitchen','kitchen','falls short','K28','Frontage near the sink, small kitchen: 0". Kitchen guideline 28 asks at least 400"; 400" short.',1,NULL);
INSERT INTO "notes" VALUES(62,0,1,'finding','Q5:two-people-base:kitchen','kitchen','kitchen','falls short','Q5','Base cabinet run for one or two people: 0". Household storage studies (retold) asks at least 8'' 10 5/16" (2,700 mm); 8'' 10 5/16" short.',1,NULL);
INSERT INTO "notes" VALUES(63,0,1,'finding','Q5:two-people-wall:kitchen','kitchen','kitchen','falls short','Q5','Wall cabinet run for one or two people: 0". Household storage studies (retold) asks at least 7'' 10 1/2" (2,400 mm); 7'' 10 1/2" short.',1,NULL);
INSERT INTO "notes" VALUES(64,0,1,'finding','Q16:per-person:kitchen','kitchen','kitchen','falls short','Q16','Shelf area for the household: 0 sq ft. Shelf area formula (retold) asks at least 18 sq ft; 18 sq ft short.',1,NULL);
INSERT INTO "notes" VALUES(65,0,1,'finding','K4::kitchen','kitchen','kitchen','not assessed','K4','Tall units between two work centres: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface; kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(66,0,1,'finding','K5::kitchen','kitchen','kitchen','not assessed','K5','Length of a walk inside the work triangle: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface; kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(67,0,1,'finding','K19:ducted:kitchen','kitchen','kitchen','not assessed','K19','Hoods that lead the air outdoors: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(68,0,1,'finding','K19:recommended:kitchen','kitchen','kitchen','not assessed','K19','Flow of the cooking ventilation, as recommended: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(69,0,1,'finding','K19:code-intermittent:kitchen','kitchen','kitchen','not assessed','K19','Flow of the cooking ventilation when switched on: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(70,0,1,'finding','K19:code-continuous:kitchen','kitchen','kitchen','not assessed','K19','Flow of the cooking ventilation that runs all the time: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface.',1,NULL);
INSERT INTO "notes" VALUES(71,0,1,'finding','K14::kitchen','kitchen','kitchen','falls short','K14','Waste receptacles: none. Kitchen guideline 14 asks at least 2.',1,NULL);
INSERT INTO "notes" VALUES(72,0,1,'finding','K3:sum:kitchen','kitchen','kitchen','not assessed','K3','Work triangle, sum of the three distances: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface; kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(73,0,1,'finding','K3:leg:kitchen','kitchen','kitchen','not assessed','K3','Length of one leg of the work triangle: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface; kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(74,0,1,'finding','K3b::kitchen','kitchen','kitchen','not assessed','K3b','Distance from a further work centre: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface; kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(75,0,1,'finding','K3c::kitchen','kitchen','kitchen','not assessed','K3c','Length of a work triangle leg inside an obstacle: not assessed, a fact is not recorded. Needed: kitchen: a cooking surface; kitchen: a refrigerator.',1,NULL);
INSERT INTO "notes" VALUES(76,0,1,'answer','a1','','','to mend','K6','To mend',1,NULL);
CREATE TABLE pieces (
	id INTEGER NOT NULL, 
	released BOOLEAN NOT NULL, 
	digest BLOB NOT NULL, 
	data BLOB NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (released, digest)
);
INSERT INTO "pieces" VALUES(1,0,X'0F6A844F10CF60811690127BAB6C4B4AB18B34FD415692B4542A22A2E6DCC991',X'014889754F410A833010FCCAB2975E52588542F10B7D8248B1BA68A85189B11E247F6FD62236855EC2CCEC666676455D6306F8D4AE6AB94705D8978645BA1DD23CF1CFD230BB4EF7A2E63929A042418E497AC218634227144E3B0E0497B2EB26F9BAEEE9E709BD8283F2963186AC0C9C9D391A462DAD7EB105718C1D16F41255B10E3D9BBB31225FB74EB51DC691EBEF020F2ECDBFB32E14A1F06C47B4AC9BD67D8CD384C817FE0D26485AF4');
INSERT INTO "pieces" VALUES(2,0,X'294CFBA9BC2D2A52A0AC9FC3CCEBF6C2EAA5AB698C80D877BAC260838851FF17',X'014889AB56CA4C51B252502A4E2ECDC9492DAA54D25150CA4BCC4D05890523899516A7A22BCB2F2DC9C9CC030947472B191AA903C50C627514806C0B74B692A181BA12846F84E0030594CA1373728A414654C31CA25BAC54ABA380E0A6A272F350B9E5609714A4E601B92545A5A9B5B1B500D2E538DB');
INSERT INTO "pieces" VALUES(3,0,X'6BA2A763022B24FFD18227D37EA7547680E79785A9C538C6DF1034DE32E33D8F',X'007B22756E697473223A20227573222C202263757272656E6379223A2022555344222C202276657273696F6E223A202233222C202264617465223A2022323032342D30352D3036222C20227374616765223A2022617320666F756E64227D');
INSERT INTO "pieces" VALUES(4,0,X'7559DDA857B0EF7DF911FC792F94D83DC160A47A08E2F37A30EC4ECB59AA4F6A',X'0148895DCE3D0EC2300C05E0AB545E580021FE84380B52D526AE1225B1236AD4A1EADD8B9BD281C97ADF7B8347F0169E1518FE90E01BF615044FFFD4E7C6A05AF0621C925A8EC546703C683734316AB15CDD1E961D775D8F52A7F4B5D3A4BDB7E24A86C74E2716F326E7DB0BD45A16E1B4E2E57A5C5938FFEC5E241062BD3D484C08D30C8E563E39');
INSERT INTO "pieces" VALUES(5,0,X'B14BC81EA5A177B74DAD6321CA21DC30D4E86BCB22F542D2CFA5D5187A614467',X'0148893D8DC10AC2400C447F65C959A4C59B373DFB07E2A1DD0D361837A5C952A5F4DF6D56F1386F78330B50826380D4C22E402ECF1EA72DB75B303246EFCE22A65EEBD845D40D5D416361C6E90D37D710D317E7B602198D2457B4FC0EC4070C5FE6E11458E6A0941F4EA368A587A681D5F5380845FC5B6A9D151F83BE109BA3817252BA0FD5BBC88C535023E63DAC1FF3063DC6');
INSERT INTO "pieces" VALUES(6,0,X'B6DBB04C541C69BAE22AC917D5D5BBEA65F9B3B97B96C74D80D0C0A8E87CC81F',X'007B226E65656473223A205B7B226964223A20226E31222C20226E756D626572223A20312C202274657874223A20224120706C61636520746F207761736820626F6F74732E222C2022737061636573223A205B227363756C6C657279225D7D5D7D');
INSERT INTO "pieces" VALUES(7,0,X'C428C2DC184B0011BA25FF0FC4E5FCE8C3AE39CC150243FBF39DC1977A120D3F',X'007B226964223A2022646F6F72222C20226B696E64223A2022646F6F72222C202277616C6C223A20226B2D73222C20226265796F6E64223A20226E6F6E65222C20226F66667365745F6D6D223A20223227222C202277696474685F6D6D223A20223327222C20226865696768745F6D6D223A2022362720385C22222C2022656E747279223A20747275652C20227377696E67223A207B2268696E6765223A20227269676874222C2022696E746F223A2022746869732073696465227D7D');
INSERT INTO "pieces" VALUES(8,0,X'C754C95160810E1C5E213C7C52FA8C8D71AFE87277E05F84EFA57967F1C43D06',X'01488955CEC10AC2300C06E05729B978F12013447C1641EA9AD130DB1493B1C3D8BBBB6C9DE831DFFF8764020A707320947B383AE829FFCD527C8B063D691B319B95D76613441ED732AAA3358A2C6AD2F29015DF46DC754BFE48C9BC39C0BCD8484163A5F3E90ED60B58BED6547BB22AA71DAF1B2A977DF5526B5E480CBCC890305443599FFC3D16BC7A271151619E3F34E34A0C');
INSERT INTO "pieces" VALUES(9,0,X'F3A25AA93AA2FBBA28D79260535BBD6A5EB0FC1C24A8B0F04E12B484C1DFE363',X'0148896360646266616563E7E0E4E2E6E1E5E3171014121611151397909492969195935750545256515553D7D0D4D2D6D1D5D33730343236313533B7B0B4B2B6B1B5B37770747276717573F7F0F4F2F6F1F5F30F080C0A0E090D0B8F888C8A8E898D8B4F484C4A4E494D4BCFC8CCCACEC9CDCB2F282C2A2E292D2BAFA8ACAAAEA9ADAB6F686C6A6E696D6BEFE8ECEAEEE9EDEB9F3071D2E42953A74D9F3173D6EC3973E7CD5FB070D1E2254B972D5FB172D5EA356BD7ADDFB071D3E62D5BB76DDFB173D7EE3D7BF7ED3F70F0D0E123478F1D3F71F2D4E93367CF9DBF70F1D2E52B57AF5DBF71F3D6ED3B77EFDD7FF0F0D1E3274F9F3D7FF1F2D5EB376FDFBDFFF0F1D3E72F5FBF7DFFF1F3D7EF3F7FFFFD6718F5FF88F63F00A0627E90');
INSERT INTO "pieces" VALUES(10,0,X'FF620BDE03BBD683EB8A51D2A14EBC53FB11AEA98845DCBD998F6FA835AACC1B',X'007B2270656F706C65223A205B7B226964223A202261222C20226E616D65223A202241222C2022636F6F6B73223A20747275657D5D2C2022636F6F6B735F746F676574686572223A20312C2022676174686572696E6773223A205B7B2270656F706C65223A20382C202277686174223A202253756E64617973227D5D7D');
CREATE TABLE projects (
	id INTEGER NOT NULL, 
	released BOOLEAN NOT NULL, 
	project TEXT NOT NULL, 
	name TEXT NOT NULL, 
	latest INTEGER NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (released, project)
);
INSERT INTO "projects" VALUES(1,0,'old-house','Later: Old house',2);
CREATE TABLE version_files (
	released BOOLEAN NOT NULL, 
	version INTEGER NOT NULL, 
	path TEXT NOT NULL, 
	file INTEGER NOT NULL, 
	PRIMARY KEY (version, path), 
	FOREIGN KEY(version) REFERENCES versions (id), 
	FOREIGN KEY(file) REFERENCES files (id)
)
 WITHOUT ROWID

;
INSERT INTO "version_files" VALUES(0,1,'light/scan.csv',2);
INSERT INTO "version_files" VALUES(0,1,'project.json',1);
INSERT INTO "version_files" VALUES(0,2,'light/scan.csv',2);
INSERT INTO "version_files" VALUES(0,2,'project.json',3);
CREATE TABLE versions (
	id INTEGER NOT NULL, 
	released BOOLEAN NOT NULL, 
	project INTEGER NOT NULL, 
	number INTEGER NOT NULL, 
	"on" TEXT NOT NULL, 
	who TEXT NOT NULL, 
	why TEXT NOT NULL, 
	format INTEGER NOT NULL, 
	yardstick TEXT NOT NULL, 
	house_rules TEXT NOT NULL, 
	seal BLOB NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (project, number), 
	FOREIGN KEY(project) REFERENCES projects (id)
);
INSERT INTO "versions" VALUES(1,0,1,1,'2026-03-24T10:42:00Z','Ann Ousel','before the tender',1,'us','',X'2CEDCBDF7743C63E58F3AD9BB557E6697151332980659392B6C11342C8FA62DA');
INSERT INTO "versions" VALUES(2,0,1,2,'2026-03-25T10:42:00Z','Ann Ousel','after the tender',1,'us','',X'B79EBFBB968DBC226F2215690462D2BA17A2F2B16AB1ABC0D3D6925945ED557F');
CREATE TABLE words (
	released BOOLEAN NOT NULL, 
	word TEXT NOT NULL, 
	PRIMARY KEY (released, word)
)
 WITHOUT ROWID

;
INSERT INTO "words" VALUES(0,'above');
INSERT INTO "words" VALUES(0,'across');
INSERT INTO "words" VALUES(0,'adult');
INSERT INTO "words" VALUES(0,'air');
INSERT INTO "words" VALUES(0,'aisle');
INSERT INTO "words" VALUES(0,'all');
INSERT INTO "words" VALUES(0,'along');
INSERT INTO "words" VALUES(0,'an');
INSERT INTO "words" VALUES(0,'and');
INSERT INTO "words" VALUES(0,'angle');
INSERT INTO "words" VALUES(0,'answer');
INSERT INTO "words" VALUES(0,'answers');
INSERT INTO "words" VALUES(0,'apart');
INSERT INTO "words" VALUES(0,'appliance');
INSERT INTO "words" VALUES(0,'are');
INSERT INTO "words" VALUES(0,'area');
INSERT INTO "words" VALUES(0,'as');
INSERT INTO "words" VALUES(0,'asks');
INSERT INTO "words" VALUES(0,'assessed');
INSERT INTO "words" VALUES(0,'at');
INSERT INTO "words" VALUES(0,'base');
INSERT INTO "words" VALUES(0,'beams');
INSERT INTO "words" VALUES(0,'behind');
INSERT INTO "words" VALUES(0,'beside');
INSERT INTO "words" VALUES(0,'between');
INSERT INTO "words" VALUES(0,'boots');
INSERT INTO "words" VALUES(0,'burn');
INSERT INTO "words" VALUES(0,'burners');
INSERT INTO "words" VALUES(0,'by');
INSERT INTO "words" VALUES(0,'cabinet');
INSERT INTO "words" VALUES(0,'cabinets');
INSERT INTO "words" VALUES(0,'ceiling');
INSERT INTO "words" VALUES(0,'centre');
INSERT INTO "words" VALUES(0,'centres');
INSERT INTO "words" VALUES(0,'cleanup');
INSERT INTO "words" VALUES(0,'clear');
INSERT INTO "words" VALUES(0,'code');
INSERT INTO "words" VALUES(0,'common');
INSERT INTO "words" VALUES(0,'cook');
INSERT INTO "words" VALUES(0,'cooking');
INSERT INTO "words" VALUES(0,'corners');
INSERT INTO "words" VALUES(0,'counter');
INSERT INTO "words" VALUES(0,'decision');
INSERT INTO "words" VALUES(0,'decisions');
INSERT INTO "words" VALUES(0,'depth');
INSERT INTO "words" VALUES(0,'dimensions');
INSERT INTO "words" VALUES(0,'dining');
INSERT INTO "words" VALUES(0,'distance');
INSERT INTO "words" VALUES(0,'distances');
INSERT INTO "words" VALUES(0,'does');
INSERT INTO "words" VALUES(0,'door');
INSERT INTO "words" VALUES(0,'drawer');
INSERT INTO "words" VALUES(0,'drawers');
INSERT INTO "words" VALUES(0,'dressings');
INSERT INTO "words" VALUES(0,'ducts');
INSERT INTO "words" VALUES(0,'each');
INSERT INTO "words" VALUES(0,'easily');
INSERT INTO "words" VALUES(0,'enclosed');
INSERT INTO "words" VALUES(0,'entry');
INSERT INTO "words" VALUES(0,'exactly');
INSERT INTO "words" VALUES(0,'extinguishers');
INSERT INTO "words" VALUES(0,'fact');
INSERT INTO "words" VALUES(0,'fault');
INSERT INTO "words" VALUES(0,'fire');
INSERT INTO "words" VALUES(0,'floor');
INSERT INTO "words" VALUES(0,'flow');
INSERT INTO "words" VALUES(0,'for');
INSERT INTO "words" VALUES(0,'formula');
INSERT INTO "words" VALUES(0,'freezer');
INSERT INTO "words" VALUES(0,'from');
INSERT INTO "words" VALUES(0,'frontage');
INSERT INTO "words" VALUES(0,'ft');
INSERT INTO "words" VALUES(0,'further');
INSERT INTO "words" VALUES(0,'gathering');
INSERT INTO "words" VALUES(0,'given');
INSERT INTO "words" VALUES(0,'glazed');
INSERT INTO "words" VALUES(0,'ground');
INSERT INTO "words" VALUES(0,'guideline');
INSERT INTO "words" VALUES(0,'halls');
INSERT INTO "words" VALUES(0,'handbooks');
INSERT INTO "words" VALUES(0,'has');
INSERT INTO "words" VALUES(0,'height');
INSERT INTO "words" VALUES(0,'hoods');
INSERT INTO "words" VALUES(0,'household');
INSERT INTO "words" VALUES(0,'in');
INSERT INTO "words" VALUES(0,'inside');
INSERT INTO "words" VALUES(0,'is');
INSERT INTO "words" VALUES(0,'island');
INSERT INTO "words" VALUES(0,'it');
INSERT INTO "words" VALUES(0,'its');
INSERT INTO "words" VALUES(0,'kitchen');
INSERT INTO "words" VALUES(0,'landing');
INSERT INTO "words" VALUES(0,'largest');
INSERT INTO "words" VALUES(0,'lead');
INSERT INTO "words" VALUES(0,'least');
INSERT INTO "words" VALUES(0,'leg');
INSERT INTO "words" VALUES(0,'length');
INSERT INTO "words" VALUES(0,'light');
INSERT INTO "words" VALUES(0,'lights');
INSERT INTO "words" VALUES(0,'likely');
INSERT INTO "words" VALUES(0,'lines');
INSERT INTO "words" VALUES(0,'longer');
INSERT INTO "words" VALUES(0,'low');
INSERT INTO "words" VALUES(0,'lower');
INSERT INTO "words" VALUES(0,'meets');
INSERT INTO "words" VALUES(0,'mend');
INSERT INTO "words" VALUES(0,'mm');
INSERT INTO "words" VALUES(0,'near');
INSERT INTO "words" VALUES(0,'need');
INSERT INTO "words" VALUES(0,'needed');
INSERT INTO "words" VALUES(0,'needs');
INSERT INTO "words" VALUES(0,'no');
INSERT INTO "words" VALUES(0,'none');
INSERT INTO "words" VALUES(0,'not');
INSERT INTO "words" VALUES(0,'obstacle');
INSERT INTO "words" VALUES(0,'of');
INSERT INTO "words" VALUES(0,'on');
INSERT INTO "words" VALUES(0,'one');
INSERT INTO "words" VALUES(0,'only');
INSERT INTO "words" VALUES(0,'open');
INSERT INTO "words" VALUES(0,'openable');
INSERT INTO "words" VALUES(0,'opening');
INSERT INTO "words" VALUES(0,'opens');
INSERT INTO "words" VALUES(0,'or');
INSERT INTO "words" VALUES(0,'other');
INSERT INTO "words" VALUES(0,'out');
INSERT INTO "words" VALUES(0,'outdoors');
INSERT INTO "words" VALUES(0,'ovens');
INSERT INTO "words" VALUES(0,'own');
INSERT INTO "words" VALUES(0,'pantry');
INSERT INTO "words" VALUES(0,'part');
INSERT INTO "words" VALUES(0,'people');
INSERT INTO "words" VALUES(0,'person');
INSERT INTO "words" VALUES(0,'piece');
INSERT INTO "words" VALUES(0,'place');
INSERT INTO "words" VALUES(0,'places');
INSERT INTO "words" VALUES(0,'practice');
INSERT INTO "words" VALUES(0,'preparation');
INSERT INTO "words" VALUES(0,'protection');
INSERT INTO "words" VALUES(0,'r303');
INSERT INTO "words" VALUES(0,'r305');
INSERT INTO "words" VALUES(0,'reasons');
INSERT INTO "words" VALUES(0,'receptacles');
INSERT INTO "words" VALUES(0,'recommended');
INSERT INTO "words" VALUES(0,'recorded');
INSERT INTO "words" VALUES(0,'refrigerator');
INSERT INTO "words" VALUES(0,'residential');
INSERT INTO "words" VALUES(0,'retold');
INSERT INTO "words" VALUES(0,'room');
INSERT INTO "words" VALUES(0,'rooms');
INSERT INTO "words" VALUES(0,'rule');
INSERT INTO "words" VALUES(0,'run');
INSERT INTO "words" VALUES(0,'runs');
INSERT INTO "words" VALUES(0,'said');
INSERT INTO "words" VALUES(0,'say');
INSERT INTO "words" VALUES(0,'scullery');
INSERT INTO "words" VALUES(0,'serves');
INSERT INTO "words" VALUES(0,'shape');
INSERT INTO "words" VALUES(0,'share');
INSERT INTO "words" VALUES(0,'shares');
INSERT INTO "words" VALUES(0,'sharp');
INSERT INTO "words" VALUES(0,'shelf');
INSERT INTO "words" VALUES(0,'short');
INSERT INTO "words" VALUES(0,'side');
INSERT INTO "words" VALUES(0,'sink');
INSERT INTO "words" VALUES(0,'sizes');
INSERT INTO "words" VALUES(0,'skylight');
INSERT INTO "words" VALUES(0,'small');
INSERT INTO "words" VALUES(0,'solid');
INSERT INTO "words" VALUES(0,'source');
INSERT INTO "words" VALUES(0,'spare');
INSERT INTO "words" VALUES(0,'sq');
INSERT INTO "words" VALUES(0,'square');
INSERT INTO "words" VALUES(0,'sticks');
INSERT INTO "words" VALUES(0,'still');
INSERT INTO "words" VALUES(0,'storage');
INSERT INTO "words" VALUES(0,'studies');
INSERT INTO "words" VALUES(0,'such');
INSERT INTO "words" VALUES(0,'sum');
INSERT INTO "words" VALUES(0,'surface');
INSERT INTO "words" VALUES(0,'surfaces');
INSERT INTO "words" VALUES(0,'switch');
INSERT INTO "words" VALUES(0,'switched');
INSERT INTO "words" VALUES(0,'switches');
INSERT INTO "words" VALUES(0,'taken');
INSERT INTO "words" VALUES(0,'tall');
INSERT INTO "words" VALUES(0,'task');
INSERT INTO "words" VALUES(0,'telling');
INSERT INTO "words" VALUES(0,'that');
INSERT INTO "words" VALUES(0,'the');
INSERT INTO "words" VALUES(0,'thing');
INSERT INTO "words" VALUES(0,'things');
INSERT INTO "words" VALUES(0,'three');
INSERT INTO "words" VALUES(0,'time');
INSERT INTO "words" VALUES(0,'times');
INSERT INTO "words" VALUES(0,'to');
INSERT INTO "words" VALUES(0,'told');
INSERT INTO "words" VALUES(0,'total');
INSERT INTO "words" VALUES(0,'triangle');
INSERT INTO "words" VALUES(0,'two');
INSERT INTO "words" VALUES(0,'under');
INSERT INTO "words" VALUES(0,'units');
INSERT INTO "words" VALUES(0,'unprotected');
INSERT INTO "words" VALUES(0,'ventilation');
INSERT INTO "words" VALUES(0,'volume');
INSERT INTO "words" VALUES(0,'walk');
INSERT INTO "words" VALUES(0,'wall');
INSERT INTO "words" VALUES(0,'was');
INSERT INTO "words" VALUES(0,'wash');
INSERT INTO "words" VALUES(0,'waste');
INSERT INTO "words" VALUES(0,'way');
INSERT INTO "words" VALUES(0,'what');
INSERT INTO "words" VALUES(0,'when');
INSERT INTO "words" VALUES(0,'where');
INSERT INTO "words" VALUES(0,'which');
INSERT INTO "words" VALUES(0,'width');
INSERT INTO "words" VALUES(0,'window');
INSERT INTO "words" VALUES(0,'windows');
INSERT INTO "words" VALUES(0,'with');
INSERT INTO "words" VALUES(0,'without');
INSERT INTO "words" VALUES(0,'work');
CREATE INDEX notes_project ON notes (project, until);
CREATE INDEX figures_project ON figures (project, space, what, record);
CREATE INDEX figures_what ON figures (what, name, id, value);
CREATE INDEX lesson_facets_lesson ON lesson_facets (lesson);
CREATE INDEX lessons_project ON lessons (project, until);
CREATE INDEX version_files_file ON version_files (file);
COMMIT;
CREATE VIRTUAL TABLE notes_text USING fts5(text, content='notes', content_rowid='id', columnsize=0, tokenize='porter unicode61 remove_diacritics 2');
INSERT INTO notes_text(notes_text) VALUES ('rebuild');
