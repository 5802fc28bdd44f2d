"""The pages that keep the records: cars, jobs, people, vendors, shows, the plan."""
