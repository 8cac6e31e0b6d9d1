"""Claims about the job, each with a code; findings are collected, the caller decides."""
