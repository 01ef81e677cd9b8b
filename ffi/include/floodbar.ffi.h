/* The declarations of floodbar.h for readers without a preprocessor, such as FFI::cdef of PHP.
   Generated: do not edit. SPDX-License-Identifier: MIT OR Apache-2.0 */
enum {
    FLOODBAR_ABI = 1,
    FLOODBAR_SUCCESS = 0,
    FLOODBAR_BAD_JSON = 1,
    FLOODBAR_UNKNOWN_CALCULATION = 2,
    FLOODBAR_UNKNOWN_FIELD = 3,
    FLOODBAR_MISSING_FIELD = 4,
    FLOODBAR_BAD_QUANTITY = 5,
    FLOODBAR_WRONG_DIMENSION = 6,
    FLOODBAR_OUT_OF_RANGE = 7,
    FLOODBAR_IMPOSSIBLE = 8,
    FLOODBAR_NO_SOLUTION = 9,
    FLOODBAR_NULL_POINTER = 10,
    FLOODBAR_INTERNAL = 11,
    FLOODBAR_TOO_LONG = 12,
    FLOODBAR_WRONG_TYPE = 13,
};
typedef struct floodbar_cache floodbar_cache;
typedef struct floodbar_prepared floodbar_prepared;
typedef int32_t floodbar_status;
const char *floodbar_version(void);
uint32_t floodbar_abi(void);
struct floodbar_cache *floodbar_cache_new(size_t entries);
void floodbar_cache_free(struct floodbar_cache *cache);
floodbar_status floodbar_cache_counts(const struct floodbar_cache *cache,
                                      uint64_t *hits,
                                      uint64_t *misses);
floodbar_status floodbar_calculate(const char *id,
                                   const char *request_json,
                                   char **answer_json);
floodbar_status floodbar_artwork_measure(const uint8_t *pixels,
                                         size_t length,
                                         const char *spec_json,
                                         char **answer_json);
floodbar_status floodbar_catalogue(char **catalogue_json);
floodbar_status floodbar_calculate_many(struct floodbar_cache *cache,
                                        const char *id,
                                        const char *requests_json,
                                        char **answers_json);
floodbar_status floodbar_sweep(struct floodbar_cache *cache,
                               const char *id,
                               const char *request_json,
                               const char *spec_json,
                               char **answer_json);
floodbar_status floodbar_solve(struct floodbar_cache *cache,
                               const char *id,
                               const char *request_json,
                               const char *spec_json,
                               char **answer_json);
void floodbar_free(char *text);
floodbar_status floodbar_prepare(struct floodbar_cache *cache,
                                 const char *id,
                                 const char *request_json,
                                 const char *columns_json,
                                 struct floodbar_prepared **prepared,
                                 char **error_json);
floodbar_status floodbar_run(const struct floodbar_prepared *prepared,
                             size_t rows,
                             const double *const *inputs,
                             size_t inputs_count,
                             double *const *outputs,
                             size_t outputs_count,
                             floodbar_status *row_status,
                             uint32_t *row_cautions,
                             uint32_t *row_limits);
floodbar_status floodbar_explain(const struct floodbar_prepared *prepared,
                                 const double *input_row,
                                 size_t inputs_count,
                                 char **answer_json);
void floodbar_prepared_free(struct floodbar_prepared *prepared);
const char *floodbar_status_text(floodbar_status status);
