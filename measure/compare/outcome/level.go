package outcome

// Level is the confidence level of all intervals.
const Level = 0.95
