BEGIN TRANSACTION;
CREATE TABLE answer (
        id INTEGER PRIMARY KEY,
        item INTEGER NOT NULL REFERENCES item (number),
        seal TEXT NOT NULL,            -- of the artwork that was seen
        verdict TEXT NOT NULL CHECK (verdict IN ('yes', 'change')),
        words TEXT NOT NULL,
        wanted TEXT NOT NULL,          -- JSON: new texts by field, as far as they are known
        about TEXT NOT NULL,           -- JSON: the texts that were seen
        said_by TEXT NOT NULL,
        way TEXT NOT NULL,
        said_at TEXT NOT NULL,         -- by the clock of whoever said it
        at TEXT NOT NULL
    ) STRICT;
INSERT INTO "answer" VALUES(1,1,'4a71-8e81-51aa','yes','','{}','{"name": "Anna Berg", "role": "Violin"}','the client','file','','2026-11-27T07:19:36+00:00');
INSERT INTO "answer" VALUES(2,2,'1b78-3571-d1c0','yes','','{}','{"name": "Bo Dahl", "role": "Horn"}','the client','file','','2026-11-27T07:19:36+00:00');
CREATE TABLE correction (
        id INTEGER PRIMARY KEY,
        guest INTEGER NOT NULL REFERENCES guest (id),
        field TEXT NOT NULL,
        was TEXT NOT NULL,             -- in the list; it holds as long as the list says this
        text TEXT NOT NULL,
        words TEXT NOT NULL,           -- of the answer that asked for it
        said_by TEXT NOT NULL,
        at TEXT NOT NULL
    ) STRICT;
CREATE TABLE event (
        id INTEGER PRIMARY KEY,
        item INTEGER NOT NULL REFERENCES item (number),
        what TEXT NOT NULL CHECK (what IN ('released', 'withdrawn', 'engraved', 'spoiled')),
        seal TEXT NOT NULL,
        place INTEGER,                 -- in the run, of what was released
        reason TEXT NOT NULL DEFAULT '',  -- why it was released without a yes
        at TEXT NOT NULL
    ) STRICT;
INSERT INTO "event" VALUES(1,1,'released','4a71-8e81-51aa',1,'','2026-11-27T07:19:37+00:00');
CREATE TABLE fact (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
INSERT INTO "fact" VALUES('order','4DHB-35JS');
INSERT INTO "fact" VALUES('digits','3');
INSERT INTO "fact" VALUES('stage','3377be09329a24e3');
INSERT INTO "fact" VALUES('sizes','[[1, "{name}", "", 14.0]]');
INSERT INTO "fact" VALUES('title','Spring concert');
INSERT INTO "fact" VALUES('inputs','0a1bb38562421ae4e34cbe8e74c17964016ef9dc3c8859b8a79ffe97f244dc0f');
INSERT INTO "fact" VALUES('pack files','["pictures/001-anna-berg.png", "pictures/002-bo-dahl.png", "pictures/003-carla-ek.png", "pictures/004-dag-falk.png", "pictures/005-eva-gran.png", "spring-concert-contact-sheet.png", "spring-concert-list.xlsx", "spring-concert-proofs.html", "spring-concert-proofs.pdf"]');
INSERT INTO "fact" VALUES('pack stage','bd027d1181df7dfa');
CREATE TABLE former (              -- names that a guest had in an earlier list
        guest INTEGER NOT NULL REFERENCES guest (id), name TEXT NOT NULL, UNIQUE (guest, name)
    ) STRICT;
CREATE TABLE guest (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        row INTEGER NOT NULL,          -- in the list, at the last merge
        fields TEXT NOT NULL,          -- JSON: the list's own texts, cleaned
        gone INTEGER NOT NULL DEFAULT 0
    ) STRICT;
INSERT INTO "guest" VALUES(1,2,'{"name": "Anna Berg", "first": "Anna", "last": "Berg", "role": "Violin"}',0);
INSERT INTO "guest" VALUES(2,3,'{"name": "Bo Dahl", "first": "Bo", "last": "Dahl", "role": "Horn"}',0);
INSERT INTO "guest" VALUES(3,4,'{"name": "Carla Ek", "first": "Carla", "last": "Ek", "role": "Viola"}',0);
INSERT INTO "guest" VALUES(4,5,'{"name": "Dag Falk", "first": "Dag", "last": "Falk", "role": "Harp"}',0);
INSERT INTO "guest" VALUES(5,6,'{"name": "Eva Gran", "first": "Eva", "last": "Gran", "role": "Flute"}',0);
CREATE TABLE item (
        number INTEGER PRIMARY KEY AUTOINCREMENT,  -- never given to another cup
        guest INTEGER NOT NULL REFERENCES guest (id),
        cup INTEGER NOT NULL,
        gone INTEGER NOT NULL DEFAULT 0,
        seal TEXT,                     -- of the artwork; NULL while the item is stopped
        about TEXT NOT NULL,           -- JSON: the texts that the artwork engraves, by field
        entry TEXT NOT NULL,           -- JSON: the item in report.json
        digests TEXT NOT NULL,         -- JSON: SHA-256 by the name of each of its files
        fingerprint TEXT NOT NULL,     -- of everything that the files were made from
        UNIQUE (guest, cup)
    ) STRICT;
INSERT INTO "item" VALUES(1,1,1,0,'4a71-8e81-51aa','{"name": "Anna Berg", "role": "Violin"}','{"item": 1, "row": 2, "cup": 1, "guest": {"name": "Anna Berg", "first": "Anna", "last": "Berg", "role": "Violin", "hand": "right", "quantity": 1}, "blank": "Test cup", "coat": "black", "status": "ready", "artwork": "artwork/001-anna-berg.svg", "proof": "proofs/001-anna-berg.png", "maker_copy": "maker/001-anna-berg.png", "seal": "4a71-8e81-51aa", "side": "facing the drinker", "held_by": "right", "face": {"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}, "faces": [{"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}], "loading": {"drive": "chuck", "mouth": "away", "backwards": false, "datum": "tick", "mark": "tick", "under_head_at_start_deg": 180.0, "tick_mm": 150.0, "set_circumference_mm": 300.0, "tilt_deg": 0.0, "turn_to_face_deg": 90.0, "top_turns": "to the left", "page_mm": {"left": -150.0, "top": 0.0, "width": 300.0, "height": 100.0}, "artwork_mm": {"left": 31.0, "top": 38.0, "width": 88.0, "height": 24.0}, "steps": ["Rotary set to 300 mm around, 95.49 mm across.", "Mouth away from you.", "Pencil tick at the mouth''s edge, 150 mm around from the handle''s middle, to the right as you look at the cup. Turn it up, under the head.", "Start with the head over the mouth''s edge, on the top line (the cross): on the page that is 150 mm from the left, 0 mm from the top.", "In all it turns up to 150° with the top going to the left."]}, "lines": [{"field": "name", "text": "Anna Berg", "rows": ["Anna Berg"], "font": "Test Boxes", "letter_height_mm": 14.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.605, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 181.0, "z": 44.0, "width": 88.0, "height": 18.0}}, {"field": "role", "text": "Violin", "rows": ["Violin"], "font": "Test Boxes", "letter_height_mm": 6.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.964, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 212.143, "z": 38.0, "width": 25.714, "height": 6.0}}], "findings": []}','{"artwork/001-anna-berg.svg": "4a718e8151aaf07bdff96abc076c33e921a4af31ab4b89a3ac13088a0b9d6402", "proofs/001-anna-berg.png": "87cfaa1bf0deafc9cb303031c37a112ade11bfda2415e7f3ea27d82f310f3139", "maker/001-anna-berg.png": "93a360871f36d89c39b52795ad81b4ae896990f605f5c3ecaa960c46f52f6d25"}','1342de23fbcd61a28afb847dca2431d9b5083ea79500bcf10dee67ef17dc6073');
INSERT INTO "item" VALUES(2,2,1,0,'1b78-3571-d1c0','{"name": "Bo Dahl", "role": "Horn"}','{"item": 2, "row": 3, "cup": 1, "guest": {"name": "Bo Dahl", "first": "Bo", "last": "Dahl", "role": "Horn", "hand": "right", "quantity": 1}, "blank": "Test cup", "coat": "black", "status": "ready", "artwork": "artwork/002-bo-dahl.svg", "proof": "proofs/002-bo-dahl.png", "maker_copy": "maker/002-bo-dahl.png", "seal": "1b78-3571-d1c0", "side": "facing the drinker", "held_by": "right", "face": {"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}, "faces": [{"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}], "loading": {"drive": "chuck", "mouth": "away", "backwards": false, "datum": "tick", "mark": "tick", "under_head_at_start_deg": 180.0, "tick_mm": 150.0, "set_circumference_mm": 300.0, "tilt_deg": 0.0, "turn_to_face_deg": 90.0, "top_turns": "to the left", "page_mm": {"left": -150.0, "top": 0.0, "width": 300.0, "height": 100.0}, "artwork_mm": {"left": 41.0, "top": 40.0, "width": 68.0, "height": 20.0}, "steps": ["Rotary set to 300 mm around, 95.49 mm across.", "Mouth away from you.", "Pencil tick at the mouth''s edge, 150 mm around from the handle''s middle, to the right as you look at the cup. Turn it up, under the head.", "Start with the head over the mouth''s edge, on the top line (the cross): on the page that is 150 mm from the left, 0 mm from the top.", "In all it turns up to 150° with the top going to the left."]}, "lines": [{"field": "name", "text": "Bo Dahl", "rows": ["Bo Dahl"], "font": "Test Boxes", "letter_height_mm": 14.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.757, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 191.0, "z": 46.0, "width": 68.0, "height": 14.0}}, {"field": "role", "text": "Horn", "rows": ["Horn"], "font": "Test Boxes", "letter_height_mm": 6.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.984, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 216.429, "z": 40.0, "width": 17.143, "height": 6.0}}], "findings": []}','{"artwork/002-bo-dahl.svg": "1b783571d1c081171f6aa3d5b038d7ed97de72b2d3a5c7673435322b508375c0", "proofs/002-bo-dahl.png": "4e299d7edf48fb56e7dd71cb57e75d580b75206d9e363113824e059004cb26f3", "maker/002-bo-dahl.png": "6be9883a958d7a25f30067098d9e98a99f37488081efe2f0961a859a549fdfdd"}','e316a9a5b8c3396c8d33fc65e74cea12d0d5162745d3b397757899b4f1889668');
INSERT INTO "item" VALUES(3,3,1,0,'66db-3609-78e9','{"name": "Carla Ek", "role": "Viola"}','{"item": 3, "row": 4, "cup": 1, "guest": {"name": "Carla Ek", "first": "Carla", "last": "Ek", "role": "Viola", "hand": "right", "quantity": 1}, "blank": "Test cup", "coat": "black", "status": "ready", "artwork": "artwork/003-carla-ek.svg", "proof": "proofs/003-carla-ek.png", "maker_copy": "maker/003-carla-ek.png", "seal": "66db-3609-78e9", "side": "facing the drinker", "held_by": "right", "face": {"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}, "faces": [{"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}], "loading": {"drive": "chuck", "mouth": "away", "backwards": false, "datum": "tick", "mark": "tick", "under_head_at_start_deg": 180.0, "tick_mm": 150.0, "set_circumference_mm": 300.0, "tilt_deg": 0.0, "turn_to_face_deg": 90.0, "top_turns": "to the left", "page_mm": {"left": -150.0, "top": 0.0, "width": 300.0, "height": 100.0}, "artwork_mm": {"left": 36.0, "top": 40.0, "width": 78.0, "height": 20.0}, "steps": ["Rotary set to 300 mm around, 95.49 mm across.", "Mouth away from you.", "Pencil tick at the mouth''s edge, 150 mm around from the handle''s middle, to the right as you look at the cup. Turn it up, under the head.", "Start with the head over the mouth''s edge, on the top line (the cross): on the page that is 150 mm from the left, 0 mm from the top.", "In all it turns up to 150° with the top going to the left."]}, "lines": [{"field": "name", "text": "Carla Ek", "rows": ["Carla Ek"], "font": "Test Boxes", "letter_height_mm": 14.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.685, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 186.0, "z": 46.0, "width": 78.0, "height": 14.0}}, {"field": "role", "text": "Viola", "rows": ["Viola"], "font": "Test Boxes", "letter_height_mm": 6.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.975, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 214.286, "z": 40.0, "width": 21.429, "height": 6.0}}], "findings": []}','{"artwork/003-carla-ek.svg": "66db360978e9f9a41c24f4835d4afad8d1e05c4025a36aeeb4e8fc3d1c68eb5c", "proofs/003-carla-ek.png": "b60130a128990316974edba03178708eb0592a00d2b125b8b4ec7477abafa400", "maker/003-carla-ek.png": "ac54aaf3cda9b7d8762357c0bcad86cb19945fd610a08ac51c525aff92d11959"}','ad8915b91737fd97fd4fe085ac983eae37ef45ba7326625e6037992f07be2dab');
INSERT INTO "item" VALUES(4,4,1,0,'2e56-ad32-4782','{"name": "Dag Falk", "role": "Harp"}','{"item": 4, "row": 5, "cup": 1, "guest": {"name": "Dag Falk", "first": "Dag", "last": "Falk", "role": "Harp", "hand": "right", "quantity": 1}, "blank": "Test cup", "coat": "black", "status": "ready", "artwork": "artwork/004-dag-falk.svg", "proof": "proofs/004-dag-falk.png", "maker_copy": "maker/004-dag-falk.png", "seal": "2e56-ad32-4782", "side": "facing the drinker", "held_by": "right", "face": {"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}, "faces": [{"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}], "loading": {"drive": "chuck", "mouth": "away", "backwards": false, "datum": "tick", "mark": "tick", "under_head_at_start_deg": 180.0, "tick_mm": 150.0, "set_circumference_mm": 300.0, "tilt_deg": 0.0, "turn_to_face_deg": 90.0, "top_turns": "to the left", "page_mm": {"left": -150.0, "top": 0.0, "width": 300.0, "height": 100.0}, "artwork_mm": {"left": 36.0, "top": 38.0, "width": 78.0, "height": 24.0}, "steps": ["Rotary set to 300 mm around, 95.49 mm across.", "Mouth away from you.", "Pencil tick at the mouth''s edge, 150 mm around from the handle''s middle, to the right as you look at the cup. Turn it up, under the head.", "Start with the head over the mouth''s edge, on the top line (the cross): on the page that is 150 mm from the left, 0 mm from the top.", "In all it turns up to 150° with the top going to the left."]}, "lines": [{"field": "name", "text": "Dag Falk", "rows": ["Dag Falk"], "font": "Test Boxes", "letter_height_mm": 14.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.685, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 186.0, "z": 44.0, "width": 78.0, "height": 18.0}}, {"field": "role", "text": "Harp", "rows": ["Harp"], "font": "Test Boxes", "letter_height_mm": 6.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.984, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 216.429, "z": 38.0, "width": 17.143, "height": 6.0}}], "findings": []}','{"artwork/004-dag-falk.svg": "2e56ad3247821b13a012e8b7ca2a653c5fa59b84b2b14e5da47555e6a63744cf", "proofs/004-dag-falk.png": "e2016a23b6aa46256e002356a2af0c6c4442dafd346bb82ed73c29870e1e9d53", "maker/004-dag-falk.png": "18d7ebc04366af7c4d169f0aa15895ee8b020439907a1c111e9f420a92ed2922"}','3e61436d62ba2b5f70a1f67aec1ec7accd6568683c87ecc9ea0a81cdd39d1511');
INSERT INTO "item" VALUES(5,5,1,0,'edea-ab4b-4aa5','{"name": "Eva Gran", "role": "Flute"}','{"item": 5, "row": 6, "cup": 1, "guest": {"name": "Eva Gran", "first": "Eva", "last": "Gran", "role": "Flute", "hand": "right", "quantity": 1}, "blank": "Test cup", "coat": "black", "status": "ready", "artwork": "artwork/005-eva-gran.svg", "proof": "proofs/005-eva-gran.png", "maker_copy": "maker/005-eva-gran.png", "seal": "edea-ab4b-4aa5", "side": "facing the drinker", "held_by": "right", "face": {"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}, "faces": [{"angle_deg": 270.0, "centre_mm": 225.0, "usable_width_mm": 100.0}], "loading": {"drive": "chuck", "mouth": "away", "backwards": false, "datum": "tick", "mark": "tick", "under_head_at_start_deg": 180.0, "tick_mm": 150.0, "set_circumference_mm": 300.0, "tilt_deg": 0.0, "turn_to_face_deg": 90.0, "top_turns": "to the left", "page_mm": {"left": -150.0, "top": 0.0, "width": 300.0, "height": 100.0}, "artwork_mm": {"left": 36.0, "top": 40.0, "width": 78.0, "height": 20.0}, "steps": ["Rotary set to 300 mm around, 95.49 mm across.", "Mouth away from you.", "Pencil tick at the mouth''s edge, 150 mm around from the handle''s middle, to the right as you look at the cup. Turn it up, under the head.", "Start with the head over the mouth''s edge, on the top line (the cross): on the page that is 150 mm from the left, 0 mm from the top.", "In all it turns up to 150° with the top going to the left."]}, "lines": [{"field": "name", "text": "Eva Gran", "rows": ["Eva Gran"], "font": "Test Boxes", "letter_height_mm": 14.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.685, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 186.0, "z": 46.0, "width": 78.0, "height": 14.0}}, {"field": "role", "text": "Flute", "rows": ["Flute"], "font": "Test Boxes", "letter_height_mm": 6.0, "in_set": true, "face_deg": 270.0, "repeats": 1, "outermost_looks": 0.975, "local_radius_mm": 47.746, "stroke_mm": null, "gap_mm": null, "box_mm": {"s": 214.286, "z": 40.0, "width": 21.429, "height": 6.0}}], "findings": []}','{"artwork/005-eva-gran.svg": "edeaab4b4aa53d9011a0d0301a14510c8e82af3adceeff1389a0ef9ef75a0acf", "proofs/005-eva-gran.png": "cc147012ceb24c430fb0e6ae7c50ed475dd44160c2c64b2782fe7f38ab6b989b", "maker/005-eva-gran.png": "54f385565dbbdedbc6facef60ebcebe178d59627ac29a88d7dae8c4126f5b6da"}','e89ada0ef4aec74e48b0d72426397e311c7c9d7dc12b69c367b9d2f5ca231eb0');
CREATE TABLE letter_size (
        line INTEGER NOT NULL,
        text TEXT NOT NULL,            -- of the line, in the layout
        role TEXT NOT NULL,
        letter_height REAL NOT NULL,
        PRIMARY KEY (line, role)
    ) STRICT;
INSERT INTO "letter_size" VALUES(1,'{name}','',14.0);
CREATE TABLE pack (id TEXT PRIMARY KEY, made TEXT NOT NULL) STRICT;
INSERT INTO "pack" VALUES('7BBZ-AYK3','2026-11-27T07:19:36+00:00');
CREATE TABLE shown (
        pack TEXT NOT NULL REFERENCES pack (id),
        item INTEGER NOT NULL REFERENCES item (number),
        seal TEXT NOT NULL,
        about TEXT NOT NULL,           -- JSON: the texts that were shown, by field
        PRIMARY KEY (pack, item)
    ) STRICT;
INSERT INTO "shown" VALUES('7BBZ-AYK3',1,'4a71-8e81-51aa','{"name": "Anna Berg", "role": "Violin"}');
INSERT INTO "shown" VALUES('7BBZ-AYK3',2,'1b78-3571-d1c0','{"name": "Bo Dahl", "role": "Horn"}');
INSERT INTO "shown" VALUES('7BBZ-AYK3',3,'66db-3609-78e9','{"name": "Carla Ek", "role": "Viola"}');
INSERT INTO "shown" VALUES('7BBZ-AYK3',4,'2e56-ad32-4782','{"name": "Dag Falk", "role": "Harp"}');
INSERT INTO "shown" VALUES('7BBZ-AYK3',5,'edea-ab4b-4aa5','{"name": "Eva Gran", "role": "Flute"}');
CREATE TABLE timing (
        id INTEGER PRIMARY KEY,
        item INTEGER NOT NULL REFERENCES item (number),
        seal TEXT NOT NULL,
        machine TEXT NOT NULL,         -- the name of its profile
        motion TEXT NOT NULL,          -- a digest of how the profile says that it moves
        lines INTEGER NOT NULL,        -- of all passes together
        worked_out REAL NOT NULL,      -- seconds, by profile and settings alone
        took REAL NOT NULL,            -- seconds, by the clock
        at TEXT NOT NULL
    ) STRICT;
CREATE INDEX item_of_guest ON item (guest);
CREATE INDEX answer_of_item ON answer (item);
CREATE INDEX event_of_item ON event (item);
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('guest',5);
INSERT INTO "sqlite_sequence" VALUES('item',5);
COMMIT;
PRAGMA user_version = 2;
