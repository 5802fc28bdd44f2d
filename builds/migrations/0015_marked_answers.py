from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ("builds", "0014_answers_in_pieces"),
    ]

    operations = [
        migrations.AddField(
            model_name="forecast",
            name="mark",
            field=models.CharField(blank=True, db_default="", default="", max_length=32),
        ),
    ]
