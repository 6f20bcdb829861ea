#include "app/draw_child.h"

#include "app/child.h"

#include <string.h>

enum { SAYS_WARNING = 1, SAYS_NAME, SAYS_BYTES, SAYS_ENDED };

typedef struct {
    ks_status status;
    int n_sheets;
    ks_error err;
} drawing_end;

static void say_text(int up, int kind, const char *text)
{
    ks_child_say(up, kind, (ks_saying){text, strlen(text)}, (ks_saying){0});
}

static void draw(int up, void *payload)
{
    const ks_draw_work *work = payload;
    ks_arena arena = {0};
    ks_drawing made = {0};
    drawing_end end = {0};
    end.status = work->make(work->payload, &arena, &made, &end.err);
    end.n_sheets = made.n_sheets;
    for (int i = 0; i < made.n_warnings && !end.status; i++)
        say_text(up, SAYS_WARNING, made.warnings[i]);
    for (int i = 0; i < made.n_files && !end.status; i++) {
        say_text(up, SAYS_NAME, made.files[i].name);
        ks_child_say(up, SAYS_BYTES, (ks_saying){made.files[i].bytes, made.files[i].size},
                     (ks_saying){0});
    }
    ks_child_say(up, SAYS_ENDED, (ks_saying){&end, sizeof end}, (ks_saying){0});
}

/* A drawing as it arrives. */
typedef struct {
    ks_arena *arena;
    ks_drawing *out;
    int room_files, room_warnings;
    bool ended;
    drawing_end end;
} arriving;

static void take(arriving *a, const ks_message *message)
{
    ks_drawing *out = a->out;
    const char *bytes = ks_arena_text_n(a->arena, message->bytes, message->length);
    switch (message->kind) {
    case SAYS_WARNING:
        out->warnings =
            KS_GROW(a->arena, out->warnings, out->n_warnings, &a->room_warnings, const char *);
        out->warnings[out->n_warnings++] = bytes;
        return;
    case SAYS_NAME:
        out->files = KS_GROW(a->arena, out->files, out->n_files, &a->room_files, ks_drawn);
        out->files[out->n_files++] = (ks_drawn){.name = bytes};
        return;
    case SAYS_BYTES:
        out->files[out->n_files - 1].bytes = (const unsigned char *)bytes;
        out->files[out->n_files - 1].size = message->length;
        return;
    case SAYS_ENDED:
        memcpy(&a->end, message->bytes, sizeof a->end);
        out->n_sheets = a->end.n_sheets;
        a->ended = true;
        return;
    }
}

ks_status ks_draw_in_child(const ks_draw_work *work, ks_arena *arena, ks_drawing *out,
                           ks_error *err)
{
    ks_child child;
    arriving a = {.arena = arena, .out = out};
    ks_draw_work copy = *work;
    *out = (ks_drawing){0};
    ks_status status = ks_child_start(&child, draw, &copy, err);
    ks_heard heard = status ? KS_HEARD_END : KS_HEARD_NOTHING;
    while (heard != KS_HEARD_END && !a.ended) {
        ks_message message;
        heard = ks_child_hear(&child, 1, &message);
        if (heard == KS_HEARD_MESSAGE)
            take(&a, &message);
    }
    const char *died = ks_child_finish(&child, arena);
    if (status)
        return status;
    if (!a.ended)
        return ks_fail(err, KS_SYSTEM, "draw: drawing broke off: %s; nothing is written",
                       died ? died : "it ended without a word");
    if (a.end.status && err)
        *err = a.end.err;
    return a.end.status;
}
