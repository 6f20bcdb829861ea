#include "studio/reason_list.h"

#include "base/language.h"

#include <string.h>

/* One reason, one row. What is told is the figures' business: reason_words.c. */
static const ks_reason_entry entries[KS_REASONS] = {
    [KS_UNTOLD] = {"", "", ""},

    [KS_WHY_FALLS] = {"falls", "unsuited",
                      KS_WORDS(
                          "on a shelf tilted by 5 degrees its weight is outside its feet, so it "
                          "falls over")},
    [KS_WHY_TOO_HEAVY_TO_LIFT] =
        {"too-heavy-to-lift", "unsuited",
         KS_WORDS("{lifted} is too heavy to lift in with who and what is at hand")},
    [KS_WHY_DOORWAY_LOW] = {"doorway-low", "too tall",
                            KS_WORDS("by {by} for the doorway of {kiln}")},
    [KS_WHY_DOORWAY_NARROW] = {"doorway-narrow", "too wide",
                               KS_WORDS("by {by} for the doorway of {kiln}")},
    [KS_WHY_STILL_WET] = {"still-wet", "unsuited", KS_WORDS("it is still wet")},
    [KS_WHY_STILL_LOSES_WATER] =
        {"still-loses-water", "unsuited",
         KS_WORDS("it is still wet: {lost} lighter than at the weighing before")},
    [KS_WHY_CONE_TOO_LOW] = {"cone-too-low", "unsuited",
                             KS_WORDS(
                                 "{of} needs cone {asks} at least, the firing goes to cone {has}")},
    [KS_WHY_CONE_TOO_HIGH] =
        {"cone-too-high", "unsuited",
         KS_WORDS("{of} stands cone {asks} at most, the firing goes to cone {has}")},
    [KS_WHY_ATMOSPHERE] = {"atmosphere", "unsuited",
                           KS_WORDS("{of} needs {atmosphere}, the firing is in {fired_in}")},
    [KS_WHY_OTHER_SCHEDULE] =
        {"other-schedule", "unsuited",
         KS_WORDS("the piece asks for the schedule \"{asks}\", the firing has \"{has}\"")},
    [KS_WHY_NO_SCHEDULE] =
        {"no-schedule", "unsuited",
         KS_WORDS("the piece asks for the schedule \"{asks}\", the firing has none of its own")},
    [KS_WHY_NO_FIRING] = {"no-firing", "unsuited", KS_WORDS("no load is fired so that it suits")},
    [KS_WHY_TOO_TALL] = {"too-tall", "too tall", KS_WORDS("by {by}, standing by itself")},
    [KS_WHY_TOO_WIDE] = {"too-wide", "too wide", KS_WORDS("by {by}, standing by itself")},
    [KS_WHY_NOT_KNOWN] = {"not-known", "displaced",
                          KS_WORDS("by ware worth more, or it goes in nowhere: so much waits that "
                                   "this is not known")},
    [KS_WHY_HANDS] = {"hands", "too wide",
                      KS_WORDS("at neither side of it hands find {by} of room")},
    [KS_WHY_CONE_PACKS] =
        {"cone-packs", "no room left this time",
         KS_WORDS("no shelves were found that have a place for it and for cone packs")},
    [KS_WHY_MASS_WITH_SHELVES] = {"mass-with-shelves", "mass",
                                  KS_WORDS("{mass} with the shelves and posts under it is more "
                                           "than the {most} that {kiln} may carry")},
    [KS_WHY_MASS] = {"mass", "mass",
                     KS_WORDS("{mass} is more than the {most} that a shelf or the kiln may carry "
                              "in this firing")},
    [KS_WHY_KEPT] = {"kept", "held back",
                     KS_WORDS("it is kept for level {level} of the order's load {load}, and has no "
                              "place there")},
    [KS_WHY_WISHED_BOTTOM] = {"wished-bottom", "held back",
                              KS_WORDS(
                                  "it is to stand on the bottom level, and no room is left there")},
    [KS_WHY_WISHED_LOW] =
        {"wished-low", "held back",
         KS_WORDS("it is to stand on the lower half of the levels, and no room is left there")},
    [KS_WHY_WISHED_TOP] = {"wished-top", "held back",
                           KS_WORDS("it is to stand on a top level, and no room is left there")},
    [KS_WHY_WISHED_LEVEL] = {"wished-level", "held back",
                             KS_WORDS(
                                 "it is to stand on level {level}, and no room is left there")},
    [KS_WHY_WISHED_NOT_LEVEL] =
        {"wished-not-level", "held back",
         KS_WORDS("it is to stand on any level but {level}, and no room is left there")},
    [KS_WHY_WISHED_BESIDE] = {"wished-beside", "held back",
                              KS_WORDS("it is to stand beside {id}, and no room is left there")},
    [KS_WHY_BEYOND_REACH] = {"beyond-reach", "held back",
                             KS_WORDS("it weighs {mass} and is set down no deeper than {length}; "
                                      "no room is left higher up")},
    [KS_WHY_WAITS] = {"waits", "held back", KS_WORDS("the order tells it to wait")},
    [KS_WHY_ON_ANOTHER] = {"on-another", "held back",
                           KS_WORDS("it is to stand on another piece; planning does not stack")},
    [KS_WHY_SET] = {"set", "set",
                    KS_WORDS("no load has room for all of it; \"{id}\" of the same set waits too")},
    [KS_WHY_APART] = {"apart", "apart", KS_WORDS("what it must be kept from is in the load")},
    [KS_WHY_QUOTA] = {"quota", "held back", KS_WORDS("the quota of \"{member}\" is used up")},
    [KS_WHY_DUE_LATER] = {"due-later", "due later", ""},
    [KS_WHY_LEVELS_LOW] = {"levels-low", "no room left this time",
                           KS_WORDS("every level of this plan is too low for it, by {by} or more")},
    [KS_WHY_ENDED_EARLY] =
        {"ended-early", "no room left this time",
         KS_WORDS("or it never goes in: why was not worked out, since planning was ended early")},
    [KS_WHY_NO_ROOM] = {"no-room", "no room left this time", ""},

    [KS_CHANGE_NONE] = {"none", NULL, KS_WORDS("no single change found")},
    [KS_CHANGE_NOT_LOOKED_FOR] = {"not-looked-for", NULL,
                                  KS_WORDS("not looked for, since planning was ended early")},
    [KS_CHANGE_ASK_FIT] = {"ask-fit", NULL, KS_WORDS("\"kilnstow fit\" tells what \"{id}\" needs")},
    [KS_CHANGE_PEOPLE] = {"people", NULL, KS_WORDS("{people}, or a hoist")},
    [KS_CHANGE_HOIST] = {"hoist", NULL, KS_WORDS("a hoist for {hoist} or more")},
    [KS_CHANGE_DOORWAY_HIGHER] = {"doorway-higher", NULL,
                                  KS_WORDS("a kiln with a doorway {by} higher")},
    [KS_CHANGE_DOORWAY_WIDER] = {"doorway-wider", NULL,
                                 KS_WORDS("a kiln with a doorway {by} wider")},
    [KS_CHANGE_OTHER_FIRING] = {"other-firing", NULL, KS_WORDS("a load fired as \"{firing}\"")},
    [KS_CHANGE_DRY_FIRST] =
        {"dry-first", NULL,
         KS_WORDS("let it dry first, or tell \"dries_in_kiln\": true and the firing begins with "
                  "its drying")},
    [KS_CHANGE_WEIGH_ON] = {"weigh-on", NULL, KS_WORDS("weigh it until it loses nothing in a day")},
    [KS_CHANGE_HAND_ROOM] = {"hand-room", NULL,
                             KS_WORDS("it goes in with \"hand_room\": \"{room}\" in the rules, if "
                                      "hands can do with that")},
    [KS_CHANGE_NO_HAND_ROOM] = {"no-hand-room", NULL,
                                KS_WORDS("it goes in with \"hand_room\": 0 in the rules, if it can "
                                         "be put in without hands beside it, say on a board")},
    [KS_CHANGE_FEWER_PACKS] = {"fewer-packs", NULL,
                               KS_WORDS("it goes in with \"cones\": false in the rules, or with "
                                        "packs on fewer levels")},
    [KS_CHANGE_LIGHTER_SHELVES] =
        {"lighter-shelves", NULL,
         KS_WORDS("lighter shelves, or fewer; if the kiln carries more, its mass_limit")},
    [KS_CHANGE_STRONGER_SHELF] = {"stronger-shelf", NULL,
                                  KS_WORDS("a thicker shelf, or one of silicon carbide; if yours "
                                           "bears more, its safe_load")},
    [KS_CHANGE_KEEP_ELSEWHERE] = {"keep-elsewhere", NULL,
                                  KS_WORDS("take \"keep\" off it, or keep it elsewhere")},
    [KS_CHANGE_KEEP_OFF] = {"keep-off", NULL, KS_WORDS("take \"keep\" off it")},
    [KS_CHANGE_TAG_OUT_OF_LOW] = {"tag-out-of-low", NULL,
                                  KS_WORDS("take its tag out of \"low\" in the rules")},
    [KS_CHANGE_LONGER_ARM] = {"longer-arm", NULL,
                              KS_WORDS("tell a longer \"arm\" in the rules, or a hoist")},
    [KS_CHANGE_WAIT_NO_MORE] = {"wait-no-more", NULL, KS_WORDS("take \"wait\" off it")},
    [KS_CHANGE_ON_SHELF] = {"on-a-shelf", NULL, KS_WORDS("let it stand on a shelf")},
    [KS_CHANGE_QUOTA] = {"larger-quota", NULL, KS_WORDS("a larger quota for \"{member}\"")},
    [KS_CHANGE_TURNED] =
        {"turned", NULL,
         KS_WORDS("if it may be turned, it goes onto load {load}, level {level} as well")},
    [KS_CHANGE_INSTEAD] = {"instead", NULL,
                           KS_WORDS("one \"{id}\" waits instead (load {load}, level {level})")},
    [KS_CHANGE_LONGER_POSTS] = {"longer-posts", NULL,
                                KS_WORDS("posts {by} longer on load {load}, level {level}")},
    [KS_CHANGE_ONE_LOAD_MORE] = {"one-load-more", NULL,
                                 KS_WORDS("one more load of {kiln} fired as \"{firing}\"")},
    [KS_CHANGE_TURN_FREELY] = {"turn-freely", NULL, KS_WORDS("let it be turned freely")},
    [KS_CHANGE_SLAB_THINNER] = {"slab-thinner", NULL, KS_WORDS("make its {part} {length} thinner")},
    [KS_CHANGE_SLAB_NARROWER] = {"slab-narrower", NULL,
                                 KS_WORDS("make its {part} with {margin} less margin")},
    [KS_CHANGE_SLAB_BOTH] = {"slab-thinner-and-narrower", NULL,
                             KS_WORDS(
                                 "make its {part} {length} thinner and with {margin} less margin")},
    [KS_CHANGE_WITHOUT_SLAB] = {"without-slab", NULL,
                                KS_WORDS(
                                    "it would go in without its {part}, straight on the shelf")},
    [KS_CHANGE_LOWER_FLOOR] = {"lower-floor", NULL,
                               KS_WORDS("lower its bottom shelf by {length}: shorter floor posts, "
                                        "or on the floor if its maker allows that")},
    [KS_CHANGE_OTHER_KILN] = {"other-kiln", NULL,
                              KS_WORDS("it goes into kiln {kiln}: {kiln_name}")},
    [KS_CHANGE_LOWER] = {"lower", NULL, KS_WORDS("make it {length} lower{wet}")},
    [KS_CHANGE_NARROWER] = {"narrower", NULL, KS_WORDS("make it {length} narrower{wet}")},
    [KS_CHANGE_NEXT_LOWER] = {"next-lower", NULL,
                              KS_WORDS("make the next one {length} lower{wet}")},
    [KS_CHANGE_NEXT_NARROWER] = {"next-narrower", NULL,
                                 KS_WORDS("make the next one {length} narrower{wet}")},
    [KS_CHANGE_SCALE] = {"scale", NULL, KS_WORDS("at {percent} of its size it would go in here")},
    [KS_CHANGE_PROP] = {"prop", NULL,
                        KS_WORDS("prop it on its heavy side, with a prop of its own clay that "
                                 "shrinks with it; or a foot {length} wider all round")},
    [KS_CHANGE_THICKER_SHELF] = {"thicker-shelf", NULL,
                                 KS_WORDS("a sound shelf of {material} {length} thick bears it")},
    [KS_CHANGE_CARBIDE_SHELF] =
        {"carbide-shelf", NULL,
         KS_WORDS("a shelf bears it that is of silicon carbide {carbide} thick")},
    [KS_CHANGE_THICKER_OR_CARBIDE] =
        {"thicker-or-carbide-shelf", NULL,
         KS_WORDS("a sound shelf of {material} {length} thick bears it, or one of silicon carbide "
                  "{carbide} thick")},
    [KS_CHANGE_IN_PARTS] = {"in-parts", NULL,
                            KS_WORDS("no shelf of this size bears it: build it in parts")},
    [KS_CHANGE_SLAB_LARGER] = {"slab-larger", NULL,
                               KS_WORDS("cut the {part} {length} larger all round")},
};

const ks_reason_entry *ks_reason_entry_of(ks_reason_name name)
{
    return &entries[name];
}

ks_reason_name ks_reason_called(const char *name)
{
    for (int i = KS_UNTOLD + 1; i < KS_REASONS; i++)
        if (strcmp(entries[i].name, name) == 0)
            return (ks_reason_name)i;
    return KS_UNTOLD;
}

bool ks_reason_has(ks_reason_name name, const char *key)
{
    size_t length = strlen(key);
    for (const char *at = entries[name].says; (at = strchr(at, '{')); at++)
        if (strncmp(at + 1, key, length) == 0 && at[1 + length] == '}')
            return true;
    return strcmp(key, "id") == 0 && ks_reason_has(name, "of");
}
