from django.db import migrations, models
import django.core.serializers.json
import django.db.models.deletion


def take_apart(apps, schema_editor):
    """Give every job of the answers that are kept a row of its own."""
    forecasts = apps.get_model("builds", "Forecast").objects
    rows = apps.get_model("builds", "AnsweredJob")
    for forecast in forecasts.exclude(summary={}).iterator(chunk_size=1):
        jobs = forecast.summary.pop("jobs", {})
        rows.objects.bulk_create(
            [
                rows(
                    forecast=forecast,
                    key=key,
                    condition=facts.get("condition") or "",
                    who=f" {' '.join(facts['who'])} " if facts.get("who") else "",
                    planned_start=facts.get("planned_start") or "",
                    facts=facts,
                )
                for key, facts in jobs.items()
            ],
            batch_size=500,
        )
        forecast.save(update_fields=["summary"])


def put_together(apps, schema_editor):
    forecasts = apps.get_model("builds", "Forecast").objects
    for forecast in forecasts.exclude(summary={}).iterator(chunk_size=1):
        forecast.summary["jobs"] = dict(forecast.jobs.values_list("key", "facts"))
        forecast.save(update_fields=["summary"])


class Migration(migrations.Migration):

    dependencies = [
        ("builds", "0013_working_week_version"),
    ]

    operations = [
        migrations.RenameField("forecast", "answer", "summary"),
        migrations.CreateModel(
            name="AnsweredJob",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=100)),
                ("condition", models.CharField(blank=True, default="", max_length=20)),
                ("who", models.TextField(blank=True, default="")),
                ("planned_start", models.CharField(blank=True, default="", max_length=20)),
                ("facts", models.JSONField(default=dict, encoder=django.core.serializers.json.DjangoJSONEncoder)),
                ("forecast", models.ForeignKey(db_index=False, on_delete=django.db.models.deletion.CASCADE, related_name="jobs", to="builds.forecast")),
            ],
            options={"ordering": ("pk",)},
        ),
        migrations.AddConstraint(
            model_name="answeredjob",
            constraint=models.UniqueConstraint(fields=("forecast", "key"), name="an_answer_has_a_job_once"),
        ),
        migrations.RunPython(take_apart, put_together),
    ]
