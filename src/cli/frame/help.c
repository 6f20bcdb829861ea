#include "cli/frame/help.h"

#include "app/answers/answer_frame.h"

#include <stdio.h>

static void print_option(const ks_option *option)
{
    char left[64];
    const char *value = option->value ? option->value : "";
    if (option->letter)
        (void)snprintf(left, sizeof left, "-%c, --%s %s", option->letter, option->name, value);
    else
        (void)snprintf(left, sizeof left, "    --%s %s", option->name, value);
    printf("  %-24s %s\n", left, ks_tr(option->help));
}

void ks_help_print(const ks_command *command)
{
    printf("kilnstow %s: %s\n\n%s\n\n", command->name, ks_tr(command->does),
           ks_tr(command->examples));
    printf("Usage: kilnstow %s [OPTIONS] %s\n\n", command->name, ks_tr(command->takes));
    for (int i = 0; i < command->n_options; i++)
        print_option(&command->options[i]);
    for (int i = 0; i < KS_USUAL_OPTIONS; i++)
        print_option(&ks_usual_options[i]);
    if (command->notes)
        printf("\n%s\n", ks_tr(command->notes));
}

static void add_option(ks_json_out *out, const ks_option *option)
{
    const char letter[] = {option->letter, '\0'};
    ks_out_object_flat(out, NULL);
    ks_out_text(out, "name", option->name);
    ks_out_text(out, "letter", option->letter ? letter : NULL);
    ks_out_text(out, "value", option->value);
    ks_out_whole(out, "values", !option->value ? 0 : option->kind == KS_OPT_PAIR ? 2 : 1);
    ks_out_bool(out, "again", option->kind == KS_OPT_LIST);
    ks_out_text(out, "help", option->help);
    ks_out_end(out);
}

const char *ks_help_json(const ks_command *command, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, command->name, "done");
    ks_answer_warnings(&out, NULL);
    ks_out_object(&out, "result");
    ks_out_text(&out, "does", command->does);
    ks_out_text(&out, "takes", command->takes);
    ks_out_text(&out, "examples", command->examples);
    ks_out_text(&out, "notes", command->notes);
    ks_out_array(&out, "options");
    for (int i = 0; i < command->n_options; i++)
        add_option(&out, &command->options[i]);
    for (int i = 0; i < KS_USUAL_OPTIONS; i++)
        add_option(&out, &ks_usual_options[i]);
    ks_out_end(&out);
    return ks_answer_close(&out);
}
