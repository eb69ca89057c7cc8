Console.WriteLine("mixscore");
