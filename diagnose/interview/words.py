"""Every fixed sentence of the interview."""

WELCOME = "What went wrong, why, and what to set next time: for rubber molds, waxes and castings."
MANNERS = (
    "Your own words and units will do: 307 F, 153 C, 1 1/4 in, 0,8 bar. Type ? for help, back to fix an answer, "
    "skip if you do not know. Every answer is saved at once."
)
FIRST = "What is wrong with it, and where do you see it?"
HELP = (
    "Answer with a word from the list, its number, or a quantity with its unit.",
    "skip        you do not know: it is not asked again; NAME = skip, or not known, for any fact",
    "back        go back to the answer before",
    "why         why this is asked, and what it would settle",
    "? WORD      what a word means",
    "show        the causes so far, with the evidence; show all adds every reason and number",
    "why NAME    the evidence on a cause (its name or number), or how a number was computed",
    "why not NAME    what speaks against a cause, and what would make it first",
    "cure time = 45 min    tell any fact at any time, or change an earlier answer",
    "names       what can be told here that counts, by name",
    "what if cure time = 45 min    the same with a setting changed, side by side; nothing is recorded",
    "follow      look into the earlier fault that the evidence points to; follow other takes the second likeliest",
    "defect = WORDS    a second fault on the same part; next goes on to it",
    "similar     kept cases like this one: what they were, what worked",
    "save        keep the case in the library and go on",
    "done        the diagnosis now (Ctrl-D does the same)",
    "stop        leave; the answers so far are kept (Ctrl-C does the same)",
)
STOPPED = "Stopped. {count} answers are kept; start `diagnose` again to carry on."
CARRY_ON = "There is an unfinished case: {what} ({count} answers). Carry on with it?"
NO_MATCH = (
    "Nothing here is called that. Say it in other words (where it is, what it looks like), or type ? for the list."
)
OTHER_WORDS = "Say it in other words, then: where it is, what it looks like. ? lists all."
WHICH = "Which of these is it?"
MAYBE_ANOTHER = "This may be another defect than the one named."
WHICH_DEFECT = "Is it this one? What you told is kept."
STAY = "stay"
STAYED = "Staying with: {name}."
SEVERAL_NAMES = "'{given:.60}' can mean several things."
WHICH_NAME = "Which of them is meant?"
ONE_OF_THE_LIST = "Type a number from 1 to {most}, or the whole answer, not '{typed:.40}'."
NOT_TAKEN = "Nothing was recorded."
NO_NAME = "There is no '{given:.60}' here."
MEANT = "Did you mean {near}?"
NO_NAME_LIKE_IT = "No name is like it."
ASK_FOR_NAMES = "Type names to see what can be told here."
NOTHING_DEPENDS = "Noted; nothing here depends on it."
COUNTS_EARLIER = "Noted; nothing here depends on it, but it counts for an earlier fault: {name}."
NAMES_SETTINGS = "Settings (and other names for them), told as NAME = VALUE with its unit:"
NAMES_MATERIALS = "Materials:"
NAMES_SEEN = "What is seen or tested:"
NONE_OF_THESE = "none of these"
SETTLED = "That is enough to settle it; more answers would hardly change the first cause."
SETTLED_BUT = "That is as far as the answers go: {look} was not known, and could still show another cause."
WHAT_NEXT = "What next? Any fact can still be told as name = value."
DONE = "The diagnosis, with what to set."
MORE = "More questions: is it this fault at all, and is the cause sure."
FOLLOW = "Look into the fault it began with: {name}."
FOLLOW_OTHER = "Look into the other fault it may have begun with: {name}."
NEXT = "The diagnosis, then the other fault: {name}."
ONE_MORE = "Another fault was named before. Is this one there as well, or the right name for it?"
AS_WELL = "as well"
INSTEAD = "instead"
BOTH_SEEN = "Both faults are there; this one comes when the first is done."
WRONG_NAME = "The first name was wrong; what was told is kept."
PICKS = {"defect": WHICH, "another defect": WHICH_DEFECT, "one more fault": ONE_MORE, "name": WHICH_NAME}
NOTED_FAULT = "Noted: {name}. It comes after this one; type next to go on to it."
NO_OTHER_FAULT = "No other fault was named. defect = WORDS names one."
NOW_THE_OTHER = "Now the other fault: {name}. What was told is kept."
LOOK_AGAIN = "One more look, please, for much rests on this answer. {ask} You said '{answer}'. Enter keeps it."
TO_BE_SURE = "To tell it from {others}: {ask} Type skip where there is no such thing."
BEGAN_EARLIER = "It points to a fault of its own: {name}. Type follow to look into that; what you told is kept."
ENOUGH = "Here is the diagnosis."
NOTHING_LEFT = "There is nothing left to ask that would help. Here is the diagnosis."
ASKED_TO_CHOOSE = "The answer decides which causes are worth asking about."
UNLISTED = "something not listed here"
NAME_NO_DEFECT = "Say first what is wrong; then there are causes to ask about."
NO_SUCH_CAUSE = "'{typed:.60}' is no single cause or computed number here. Causes: {names}."
CAREFUL = "TAKE CARE: {says}"
SKIPPED = "not known"
NOT_UNDERSTOOD = "That is none of the answers. {hint}"
SAME_FIRST = "whatever the answer: first would still be {cause}, only more or less surely"
ALREADY_FIRST = "This is the first question; there is nothing to go back to."
KEPT = "Kept as {name} in {folder}."
NOTHING_TO_COMPARE = "Nothing has been told yet that could be compared with kept cases."
NONE_KEPT = "No case of this defect has been kept yet. save keeps this one."
NONE_ALIKE = "None of the {count} kept cases of this defect is like this one."
MORE_ALIKE = "The {count} most alike are shown. Once this case is kept, `diagnose library similar NAME` shows more."
SEE_ALIKE = "Type similar to see them."
