/* What the header forbids, done on purpose: tests/parts/sanitizers holds that each is reported within the library, so that a run
   without a report says something.

   caught WHAT   short, beyond, freed, twice, left or race */

#include <floodbar.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Room that the compiler does not see through, so that it has nothing to say about what is done with it. */
static double *numbers(size_t count)
{
    double *got = malloc(count * sizeof *got);
    if (!got)
        abort();
    for (size_t i = 0; i < count; i++)
        got[i] = 7;
    return got;
}

static floodbar_prepared *step(void)
{
    const char *columns = "{\"inputs\": [\"/solid_step\"], \"outputs\": [\"/factor\"]}";
    floodbar_prepared *prepared = NULL;
    char *error = NULL;
    if (floodbar_prepare(NULL, "exposure.step", "{\"time\": \"80 s\"}", columns, &prepared, &error) != FLOODBAR_SUCCESS)
        abort();
    return prepared;
}

/* As many rows as told, into and out of columns that may have another number. */
struct task {
    const floodbar_prepared *prepared;
    double *steps, *factors;
    size_t rows;
};

static void *run(void *argument)
{
    const struct task *task = argument;
    const double *steps = task->steps;
    if (floodbar_run(task->prepared, task->rows, &steps, 1, &task->factors, 1, NULL, NULL, NULL) != FLOODBAR_SUCCESS)
        abort();
    return NULL;
}

int main(int count, char **arguments)
{
    const char *what = count == 2 ? arguments[1] : "";
    floodbar_prepared *prepared = step();
    struct task task = {prepared, numbers(4), numbers(4), 4};
    run(&task);
    if (strcmp(what, "short") == 0) {
        task.factors = numbers(3);
        run(&task);
    } else if (strcmp(what, "beyond") == 0) {
        task.steps = numbers(3);
        run(&task);
    } else if (strcmp(what, "freed") == 0) {
        floodbar_prepared_free(prepared);
        run(&task);
    } else if (strcmp(what, "twice") == 0) {
        floodbar_prepared_free(prepared);
        floodbar_prepared_free(prepared);
    } else if (strcmp(what, "left") == 0) {
        char *text = NULL;
        floodbar_calculate("unit.convert", "{}", &text);
    } else if (strcmp(what, "race") == 0) {
        pthread_t other;
        if (pthread_create(&other, NULL, run, &task) != 0)
            abort();
        run(&task);
        pthread_join(other, NULL);
    } else {
        fprintf(stderr, "usage: caught short|beyond|freed|twice|left|race\n");
        return 2;
    }
    floodbar_prepared_free(prepared);
    free(task.steps);
    free(task.factors);
    return 0;
}
